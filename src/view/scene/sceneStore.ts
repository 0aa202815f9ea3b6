import { createStore } from 'zustand/vanilla'
import type { Vec3 } from '../../geometry/vec3.ts'

/** What stands beside the cursor while a gesture lasts. Texts are ready to show. */
export interface Readout {
  readonly x: number
  readonly y: number
  /** What is being done: "Move point 2". */
  readonly title: string
  readonly rows: readonly { readonly name: string; readonly value: string }[]
  /** Fields that can be typed into; the active one takes the digits. */
  readonly fields: readonly {
    readonly name: string
    readonly value: string
    readonly state: 'follows' | 'active' | 'set'
  }[]
  /** The rule the route breaks now, or null. */
  readonly broken: string | null
  /** The rest of the run is still to be laid: what it breaks is no alarm yet. */
  readonly isHalfLaid?: boolean
  /** How near the moved run comes, in words; left out where nothing is moved. */
  readonly nearest?: {
    readonly state: 'waiting' | 'clear' | 'fine' | 'tooClose' | 'clash'
    readonly text: string
  }
  readonly snaps: readonly string[]
  readonly hint: string
}

export interface Guide {
  readonly from: Vec3
  readonly to: Vec3
  readonly kind: 'snap' | 'lock' | 'next'
}

export interface SceneState {
  /** The plane that clicks of the place tool land on: square to this axis, so far along it, mm. */
  readonly plane: { readonly axis: 'x' | 'y' | 'z'; readonly at: number }
  /** The plane goes through each point that is placed. */
  readonly planeFollows: boolean
  /** Clicks land on faces under the cursor too, not on the plane alone. */
  readonly onFaces: boolean
  readonly readout: Readout | null
  readonly guides: readonly Guide[]
  /** Why the picture is not there, or null. */
  readonly lost: string | null
  /** True once the user (or the address) chose the detail: then it is not changed by itself. */
  readonly detailChosen: boolean
}

/** Of the view alone: nothing here is saved or shared with the tables. */
export const sceneStore = createStore<SceneState>()(() => ({
  plane: { axis: 'z', at: 0 },
  planeFollows: true,
  onFaces: true,
  readout: null,
  guides: [],
  lost: null,
  detailChosen: false,
}))
