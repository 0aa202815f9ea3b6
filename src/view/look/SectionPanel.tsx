import { useId } from 'react'
import { useStore } from 'zustand'
import { formatLength } from '../../document/quantity.ts'
import { addScaled, DEG, distance, dot, lerp, sub, unit as unitOf, type Vec3 } from '../../geometry/vec3.ts'
import { solvedRunOf } from '../../store/derived.ts'
import { showPanel } from '../../store/lookStore.ts'
import {
  hideSection,
  planeOf,
  type SectionState,
  type SquareTo,
  sectionStore,
  showSection,
} from '../../store/sectionStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { lengthStep } from '../fields/quantityKind.ts'
import { scenePoints } from '../scene/sceneBounds.ts'
import type { Stage } from '../scene/stage.ts'
import { useSession, useShown } from '../useStore.ts'
import { acrossAxis, middleOfScene } from './lookActions.ts'
import { SessionLength } from './SessionLength.tsx'

const FIGURE: Readonly<Record<SquareTo, string>> = {
  x: 'At x',
  y: 'At y',
  z: 'At z',
  straight: 'From its start',
  gap: 'From the middle of the gap',
  kept: 'From where it was saved',
}

/** Where the section plane stands and which side it takes away. */
export function SectionPanel({ stage }: { readonly stage: Stage }) {
  const id = useId()
  const document = useShown()
  const unit = useSession(s => s.unit)
  const selection = useSession(s => s.selection)
  const gap = useSession(s => s.gap)
  const hiddenRuns = useSession(s => s.hiddenRuns)
  const hiddenBodies = useSession(s => s.hiddenBodies)
  const isOn = useSession(s => s.section !== null)
  const last = useStore(sectionStore, s => s.last)
  const section = last ?? acrossAxis('x')

  const straight =
    selection?.kind === 'straight'
      ? solvedRunOf(document, selection.run)?.route?.pieces.find(
          p => p.kind === 'line' && p.straight === selection.straight,
        )
      : undefined
  const alongGap = gap && unitOf(sub(gap.to, gap.from))
  const choose = (squareTo: SquareTo) => {
    if (squareTo === 'x' || squareTo === 'y' || squareTo === 'z')
      showSection(acrossAxis(squareTo, section.flipped))
    else if (squareTo === 'straight' && straight)
      showSection({
        squareTo,
        base: straight.start,
        axis: straight.direction,
        offset: distance(straight.start, straight.end) / 2,
        flipped: false,
      })
    else if (squareTo === 'gap' && gap && alongGap)
      showSection({
        squareTo,
        base: lerp(gap.from, gap.to, 0.5),
        axis: acrossGap(alongGap),
        offset: 0,
        flipped: false,
      })
  }
  const move = (offset: number) => showSection({ ...section, offset })

  const reach = scenePoints(document, hiddenRuns, hiddenBodies).map(p =>
    dot(sub(p, section.base), section.axis),
  )
  const step = lengthStep(unit)
  const room = reach.reduce(([low, high], r) => [Math.min(low!, r), Math.max(high!, r)], [0, 0])
  const from = Math.floor(Math.min(room[0]!, section.offset) / step - 1) * step
  const to = Math.ceil(Math.max(room[1]!, section.offset) / step + 1) * step

  return (
    <div className="lookBody">
      <div className="lookRow">
        <label htmlFor={`${id}s`}>Square to</label>
        <select id={`${id}s`} value={section.squareTo} onChange={e => choose(e.target.value as SquareTo)}>
          <option value="x">x axis</option>
          <option value="y">y axis</option>
          <option value="z">z axis (level)</option>
          <option value="straight" disabled={!straight && section.squareTo !== 'straight'}>
            {straight || section.squareTo === 'straight' ? 'the straight' : 'the straight: select one first'}
          </option>
          <option value="gap" disabled={!alongGap && section.squareTo !== 'gap'}>
            {alongGap || section.squareTo === 'gap' ? 'through the gap' : 'through the gap: show one first'}
          </option>
          {section.squareTo === 'kept' && <option value="kept">as it was saved</option>}
        </select>
      </div>
      <SessionLength name={FIGURE[section.squareTo]} value={section.offset} onChange={move} />
      <input
        type="range"
        data-first
        className="lookSlider"
        aria-label="Move the plane"
        aria-valuetext={formatLength(section.offset, unit, { withUnit: true })}
        min={from}
        max={to}
        step={step}
        value={section.offset}
        onChange={e => move(Number(Number(e.target.value).toPrecision(12)))}
      />
      <div className="lookButtons">
        <button type="button" onClick={() => showSection({ ...section, flipped: !section.flipped })}>
          Other side
        </button>
        <button type="button" onClick={() => faceOn(stage, section)}>
          Face it
        </button>
        <button
          type="button"
          aria-keyshortcuts="s"
          onClick={() => {
            if (isOn) hideSection()
            else showSection(section)
            if (isOn) showPanel(null)
          }}
        >
          {isOn ? 'Off' : 'On'}
        </button>
      </div>
      <p className="quiet">
        The section affects the view only; checks still cover everything. Arrow keys move the plane; Page
        Up/Down move it further.
      </p>
    </div>
  )
}

/** A plane that holds the gap's line: as upright as it can be, so that both sides are seen cut through the gap. */
function acrossGap(along: Vec3): Vec3 {
  const level = unitOf([along[1], -along[0], 0])
  return level && Math.hypot(along[0], along[1]) > 1e-6 ? level : [1, 0, 0]
}

/** Looks square at the cut, from the side that is taken away. */
function faceOn(stage: Stage, section: SectionState) {
  const { at, normal } = planeOf(section)
  const middle = middleOfScene()
  const level = Math.hypot(normal[0], normal[1])
  sessionStore.getState().look({
    kind: 'stand',
    stand: {
      target: addScaled(middle, normal, -dot(sub(middle, at), normal)),
      yaw: (level > 1e-9 ? Math.atan2(normal[1], normal[0]) : stage.rig.yaw) / DEG,
      pitch: Math.atan2(normal[2], level) / DEG,
      span: stage.rig.span,
      projection: stage.rig.projection,
    },
  })
}
