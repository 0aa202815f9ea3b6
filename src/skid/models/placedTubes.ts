import { type Swept, sweep } from '../../geometry/swept.ts'
import { type PlacedFrame, type Placement, placedFrame } from './placement.ts'

/** A frame with the tubes that were brought into it: each is carried over once, however many parts a model has. */
export interface PlacedTubes {
  readonly frame: PlacedFrame
  /** The tube in the model's frame. Lengths, angles and cut ends are the same; only rounding differs. */
  readonly tube: (tube: Swept) => Swept
}

export function placedTubes(placement: Placement): PlacedTubes {
  const frame = placedFrame(placement)
  if (frame.same) return { frame, tube: tube => tube }
  const known = new WeakMap<Swept, Swept>()
  return {
    frame,
    tube: tube => {
      const before = known.get(tube)
      if (before) return before
      const { first, turns } = tube
      const made = sweep(tube.shapes.map(frame.shapeToModel), tube.radius, { turnBefore: turns[0]!, first })
      known.set(tube, made)
      return made
    },
  }
}

/** One keeper a placement, by its figures: one of `known` where there is one, so that its tubes are kept. */
export function placements(known: Iterable<PlacedTubes>): (placement: Placement) => PlacedTubes {
  const figures = ({ at, turn }: Placement) => [...at, ...turn].join(' ')
  const made = new Map<string, PlacedTubes>()
  for (const placed of known) made.set(figures(placed.frame.placement), placed)
  return placement => {
    const key = figures(placement)
    const placed = made.get(key) ?? placedTubes(placement)
    made.set(key, placed)
    return placed
  }
}
