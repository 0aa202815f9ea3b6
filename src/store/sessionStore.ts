import { createStore } from 'zustand/vanilla'
import type { Viewpoint } from '../document/types.ts'
import type { Vec3 } from '../geometry/vec3.ts'
import { type HiddenBy, hiddenRunsOf, NOTHING_HIDDEN } from './hiddenRuns.ts'

export type LengthUnit = 'mm' | 'in' | 'fraction'
export type Mode = 'layingOut' | 'bending' | 'reviewing'
export type Theme = 'system' | 'light' | 'dark'

/** One thing, wherever it is shown. A bend is its vertex. `point` is 'A', a vertex id or 'B'. */
export type Part =
  | { readonly kind: 'run'; readonly run: string }
  | { readonly kind: 'point'; readonly run: string; readonly point: string }
  | { readonly kind: 'straight'; readonly run: string; readonly straight: number }
  | { readonly kind: 'fitting'; readonly fitting: string }
  | { readonly kind: 'solid'; readonly solid: string }
  /** A model, or one part of it by its key. */
  | { readonly kind: 'model'; readonly model: string; readonly key: string | null }
  | { readonly kind: 'support'; readonly support: string }

export const samePart = (a: Part | null, b: Part | null): boolean =>
  a === b || (a !== null && b !== null && JSON.stringify(a) === JSON.stringify(b))

/** The run a part belongs to, or null. */
export const runIdOf = (part: Part | null): string | null => (part && 'run' in part ? part.run : null)

/** What a click in the scene does. 'place' appends points to the run in hand, 'measure' takes what is measured. */
export type Tool = 'pick' | 'place' | 'measure' | 'support'

export type CameraRequest =
  | { readonly kind: 'fit' | 'fitSelection' }
  | { readonly kind: 'look'; readonly from: 'top' | 'bottom' | 'front' | 'back' | 'left' | 'right' | 'iso' }
  | {
      readonly kind: 'flyTo'
      readonly at: readonly [number, number, number]
      readonly span: number
      /** The view ends square to this direction. */
      readonly square?: readonly [number, number, number]
    }
  /** Exactly there; angles in degrees as a saved view has them. */
  | {
      readonly kind: 'stand'
      readonly stand: Pick<Viewpoint, 'target' | 'yaw' | 'pitch' | 'span' | 'projection'>
    }

/** A gap under review: its nearest points, its figure as text, and the two that it is between. */
export interface ShownGap {
  readonly from: readonly [number, number, number]
  readonly to: readonly [number, number, number]
  readonly text: string
  /** Ids of the two. */
  readonly between: readonly [string, string]
  /** Their tags or names, in that order. */
  readonly names: readonly [string, string]
  /** 'error': they overlap; 'warning': nearer than asked; 'ok': wide enough. */
  readonly state: 'error' | 'warning' | 'ok'
}

export interface SessionState {
  readonly mode: Mode
  readonly unit: LengthUnit
  readonly theme: Theme
  readonly selection: Part | null
  readonly hover: Part | null
  /** The other party of what is pointed at, when that is about two: lit as `hover` is. */
  readonly hoverWith: Part | null
  /** The run whose tables and unrolled tube are shown; follows the selection, stays when nothing is selected. */
  readonly runInHand: string | null
  readonly tool: Tool
  readonly projection: 'perspective' | 'orthographic'
  /** Plain detail: no antialiasing, flat shading, fewer triangles; for machines without a GPU. */
  readonly detail: 'full' | 'plain'
  readonly showRoute: boolean
  readonly hiddenBy: HiddenBy
  /** What follows from `hiddenBy`. */
  readonly hiddenRuns: ReadonlySet<string>
  /** Solids and models by id, parts of models as `model/key`: not drawn, but checked all the same. */
  readonly hiddenBodies: ReadonlySet<string>
  /** Cuts away what lies on the side that `normal` points to; null for none. */
  readonly section: { readonly at: Vec3; readonly normal: Vec3 } | null
  /** Drawn with its dimension, both parties lit, the rest faded; null for none. */
  readonly gap: ShownGap | null
  /** Which end stays put when a straight, angle or turn is typed. */
  readonly keepEnd: 'A' | 'B'
  /** Newest camera request; the scene acts when `serial` changes. */
  readonly camera: { readonly serial: number; readonly request: CameraRequest }
  /** One line for the status bar and screen readers. */
  readonly said: string
  select(part: Part | null): void
  setHover(part: Part | null, other?: Part | null): void
  look(request: CameraRequest): void
  say(message: string): void
  hide(by: Partial<HiddenBy>): void
  set(patch: Partial<Pick<SessionState, Settable>>): void
}

type Settable =
  | 'mode'
  | 'unit'
  | 'theme'
  | 'runInHand'
  | 'tool'
  | 'projection'
  | 'detail'
  | 'showRoute'
  | 'hiddenBodies'
  | 'section'
  | 'keepEnd'
  | 'gap'

export const sessionStore = createStore<SessionState>()((set, get) => ({
  mode: 'layingOut',
  unit: 'mm',
  theme: 'system',
  selection: null,
  hover: null,
  hoverWith: null,
  runInHand: null,
  tool: 'pick',
  projection: 'perspective',
  detail: 'full',
  showRoute: true,
  hiddenBy: NOTHING_HIDDEN,
  hiddenRuns: new Set(),
  hiddenBodies: new Set(),
  section: null,
  keepEnd: 'A',
  gap: null,
  camera: { serial: 0, request: { kind: 'fit' } },
  said: '',
  select(part) {
    if (!samePart(part, get().selection))
      set({ selection: part, runInHand: runIdOf(part) ?? get().runInHand })
  },
  setHover(part, other = null) {
    const { hover, hoverWith } = get()
    if (!samePart(part, hover) || !samePart(other, hoverWith)) set({ hover: part, hoverWith: other })
  },
  look(request) {
    set({ camera: { serial: get().camera.serial + 1, request } })
  },
  say(said) {
    set({ said })
  },
  hide(by) {
    const hiddenBy = { ...get().hiddenBy, ...by }
    set({ hiddenBy, hiddenRuns: hiddenRunsOf(hiddenBy) })
  },
  set(patch) {
    set(patch)
  },
}))
