import {
  add,
  addScaled,
  cross,
  DEG,
  negate,
  scale,
  squared,
  sub,
  turnDirection,
  type Vec3,
} from '../geometry/vec3.ts'
import type { Piece } from '../solve/types.ts'
import { KINDS } from './kinds/benderKinds.ts'
import type { Layout, LayoutStep, Stock } from './layOut.ts'
import { slidesOn } from './slidesOn.ts'

/** What the tube does above the die before it is put in anew: out of the bend before, end for end, rotated. */
export type OutsideMotion = 'outBefore' | 'endForEnd' | 'turnOutside'

/** What the tube does at the bender, in the order of one bend. */
export type TubeMotion = OutsideMotion | 'putIn' | 'slide' | 'turn' | 'bend' | 'armBack' | 'takeOut'

export interface TubeAtDie {
  /** The tube's centre line from its leading to its trailing end, bench frame, mm. */
  readonly pieces: readonly Piece[]
  /** Route bend of each arc piece's `bend`, and false where the piece is still straight stock. */
  readonly made: ReadonlySet<number>
  /** How far the die (and what rides on it) has turned, degrees ≥ 0. */
  readonly dieAngle: number
}

const UP: Vec3 = [0, 0, 1]
const AHEAD: Vec3 = [1, 0, 0]
const ORIGIN: Vec3 = [0, 0, 0]

/** What comes next on the way out from the die: a straight, or the stock or arc of a bend, mm. */
export type Outward =
  | { readonly kind: 'straight'; readonly index: number; readonly length: number }
  | { readonly kind: 'bend'; readonly index: number; readonly stock: number }

/**
 * Where the tube is in the bench frame (origin at the start-of-bend tangent point, +x towards the clamp, +z up)
 * at `fraction` (0 … 1) of a motion of step `i`. 'slide' ends with the mark at the die, 'turn' with the tube in its
 * plane, 'bend' at the commanded angle. Before the turn the tube lies as the bend before left it.
 *
 * The stock in a bend follows the die, so its radius while bending is settled arc / commanded angle: springback
 * opens it afterwards. In 'armBack' the die goes back to 0: the tube springs back with it and lies still from its
 * wanted angle on. 'putIn' and 'takeOut' lift the tube along the die's axis by `lift` mm, turned and sprung back.
 *
 * What is put in anew is handled `lift` mm above the die: 'outBefore' takes it out of the step before, 'endForEnd' swings
 * it flat by a half turn, clockwise from above, to where the rotation begins, and 'turnOutside' rotates it as 'turn' does.
 * @throws RangeError when the layout has no step `i`, or no step before it for 'outBefore'.
 */
export function tubeAtDie(
  layout: Layout,
  stock: Stock,
  i: number,
  motion: TubeMotion,
  fraction: number,
  lift = 0,
): TubeAtDie {
  if (motion === 'outBefore') return tubeAtDie(layout, stock, i - 1, 'takeOut', fraction, lift)
  if (motion === 'endForEnd' || motion === 'turnOutside') {
    const lying = tubeAtDie(layout, stock, i, 'turn', motion === 'turnOutside' ? fraction : 0)
    const swing = motion === 'endForEnd' ? (1 - fraction) * Math.PI : 0
    return { ...lying, pieces: lying.pieces.map(p => raised(swung(p, ORIGIN, swing), lift)) }
  }
  const step = layout.steps[i]
  if (step === undefined)
    throw new RangeError(`tubeAtDie: found step ${i}, wanted 0 … ${layout.steps.length - 1}`)
  const made = new Set(layout.steps.slice(0, i).map(s => s.bend))
  const left = layout.hand === 'left' ? 1 : -1
  const [front, tail] = sidesOf(layout, stock, step)
  const turned = motion === 'slide' ? 0 : motion === 'turn' ? fraction : 1
  const roll = (0 - (step.turn ?? 0)) * (1 - turned) * DEG
  const normal: Vec3 = turnDirection(scale(UP, left), AHEAD, roll)
  const slid = motion === 'slide' ? (fraction - 1) * slideOf(layout, i) : 0
  const origin: Vec3 = [slid, 0, 0]

  const dial = step.dial ?? step.angle
  const bent = motion === 'takeOut' || motion === 'armBack' ? 1 : motion === 'bend' ? fraction : 0
  const commanded =
    motion === 'takeOut'
      ? step.angle
      : motion === 'armBack'
        ? Math.max(step.angle, dial * (1 - fraction))
        : dial
  const phi = bent * commanded * DEG
  const used = bent * step.stockUsed
  const radius = stock.arcs[step.bend]! / (commanded * DEG)
  const centre: Vec3 = [0, left * radius, 0]
  const arc: Piece[] =
    phi > 0
      ? [
          {
            kind: 'arc',
            bend: step.bend,
            from: 0,
            to: radius * phi,
            start: ORIGIN,
            end: add(centre, turnDirection([0, 0 - left * radius, 0], UP, left * phi)),
            centre,
            radius,
            normal: [0, 0, left],
            direction: AHEAD,
            angleRad: phi,
          },
        ]
      : []

  const rest: Outward[] = [{ kind: 'straight', index: step.bend, length: step.stockUsed - used }, ...tail]
  const ahead = walk(front, stock, made, step, origin, AHEAD, normal)
  const behind = walk(rest, stock, made, step, origin, negate(AHEAD), negate(normal))
  const swing = (pieces: readonly Piece[]) => pieces.map(p => swung(p, centre, left * phi))
  const whole =
    KINDS[layout.kind].armTakes === 'front' || phi === 0
      ? [...backwards([...arc, ...swing(ahead)]), ...behind]
      : // The die stands still: the same tube seen from the front, turned back by the angle made so far.
        [...backwards([...arc, ...swing(ahead)]), ...behind].map(p => swung(p, centre, 0 - left * phi))
  const height = motion === 'putIn' ? (1 - fraction) * lift : motion === 'takeOut' ? fraction * lift : 0
  const pieces = numbered(whole.filter(p => Math.abs(p.to - p.from) > 1e-9))
  return {
    pieces: height === 0 ? pieces : pieces.map(p => raised(p, height)),
    made,
    dieAngle: dieAngleAt(layout, step, motion, fraction),
  }
}

/** Degrees that the die stands turned at `fraction` of a motion. */
function dieAngleAt(layout: Layout, step: LayoutStep, motion: TubeMotion, fraction: number): number {
  const dial = step.dial ?? step.angle
  if (motion === 'bend') return fraction * dial
  if (motion === 'armBack') return (1 - fraction) * dial
  return motion === 'takeOut' && layout.tubeOutFirst ? step.angle : 0
}

/** What lies ahead of the die and behind it, each from the die outwards; the bend in hand is in neither. */
export function sidesOf(layout: Layout, stock: Stock, step: LayoutStep): [Outward[], Outward[]] {
  const trimAtA = layout.steps[0]?.lead === 'B' ? stock.trim : 0
  const last = stock.straights.length - 1
  const straight = (index: number): Outward => ({
    kind: 'straight',
    index,
    length:
      stock.straights[index]! +
      (index === 0 ? trimAtA : 0) +
      (index === last && trimAtA === 0 ? stock.trim : 0),
  })
  const bend = (index: number): Outward => ({
    kind: 'bend',
    index,
    stock: stock.arcs[index]! - stock.stretch[index]!,
  })
  const towardsA: Outward[] = [straight(step.bend)]
  for (let k = step.bend - 1; k >= 0; k--) towardsA.push(bend(k), straight(k))
  const towardsB: Outward[] = [straight(step.bend + 1)]
  for (let k = step.bend + 1; k < last; k++) towardsB.push(bend(k), straight(k + 1))
  return step.lead === 'A' ? [towardsA, towardsB] : [towardsB, towardsA]
}

/**
 * True when the tube cannot slide on from the bend before and is put in from above instead, turned already: after
 * an end-for-end turn, where the bend before is not the nearest made one ahead, after compression bending, which
 * leaves the tail wrapped aside, and on a bender that lets the tube out after every bend.
 */
export function putInAnew(layout: Layout, i: number): boolean {
  const { bend, lead } = layout.steps[i]!
  const before = layout.steps[i - 1] ?? null
  const made = (b: number) => layout.steps.slice(0, i).some(s => s.bend === b)
  return !slidesOn(layout, { bend, lead, before, made })
}

/** How far the tube slides forward before step `i`, mm; from the leading end when it is put in anew. */
export function slideOf(layout: Layout, i: number): number {
  const step = layout.steps[i]!
  const before = layout.steps[i - 1]
  return before === undefined || putInAnew(layout, i)
    ? step.start
    : step.start - before.start - before.stockUsed
}

/** Lines and arcs from the die outwards. The plane of a made bend is its rotation from the one in hand. */
function walk(
  items: readonly Outward[],
  stock: Stock,
  made: ReadonlySet<number>,
  step: LayoutStep,
  from: Vec3,
  heading: Vec3,
  firstNormal: Vec3,
): Piece[] {
  const pieces: Piece[] = []
  let at = from
  let direction = heading
  let normal = firstNormal
  let plane = stock.planes[step.bend]!
  const line = (index: number, length: number) => {
    const before = pieces.at(-1)
    const end = addScaled(at, direction, length)
    if (before?.kind === 'line')
      pieces[pieces.length - 1] = { ...before, to: before.to + length, end, straight: index }
    else pieces.push({ kind: 'line', straight: index, from: 0, to: length, start: at, end, direction })
    at = end
  }
  for (const item of items) {
    if (item.kind === 'straight') line(item.index, item.length)
    else if (!made.has(item.index)) line(item.index, item.stock)
    else {
      const k = item.index
      // Torsion is the same whichever way the tube is walked, so the sign goes with the bend's number.
      const rho = (k > step.bend ? 1 : -1) * (stock.planes[k]! - plane)
      normal = turnDirection(normal, direction, rho * DEG)
      plane = stock.planes[k]!
      const radius = stock.radii[k]!
      const angleRad = stock.arcs[k]! / radius
      const centre = addScaled(at, cross(normal, direction), radius)
      const end = add(centre, turnDirection(sub(at, centre), normal, angleRad))
      pieces.push({
        kind: 'arc',
        bend: k,
        from: 0,
        to: stock.arcs[k]!,
        start: at,
        end,
        centre,
        radius,
        normal,
        direction,
        angleRad,
      })
      at = end
      ;[direction, normal] = squared(turnDirection(direction, normal, angleRad), normal)
    }
  }
  return pieces
}

function swung(piece: Piece, centre: Vec3, rad: number): Piece {
  if (rad === 0) return piece
  const point = (p: Vec3) => add(centre, turnDirection(sub(p, centre), UP, rad))
  const turned = {
    start: point(piece.start),
    end: point(piece.end),
    direction: turnDirection(piece.direction, UP, rad),
  }
  return piece.kind === 'line'
    ? { ...piece, ...turned }
    : { ...piece, ...turned, centre: point(piece.centre), normal: turnDirection(piece.normal, UP, rad) }
}

function raised(piece: Piece, by: number): Piece {
  const ends = { start: addScaled(piece.start, UP, by), end: addScaled(piece.end, UP, by) }
  return piece.kind === 'line'
    ? { ...piece, ...ends }
    : { ...piece, ...ends, centre: addScaled(piece.centre, UP, by) }
}

/** The same pieces walked the other way. */
const backwards = (pieces: readonly Piece[]): Piece[] =>
  pieces.toReversed().map(p =>
    p.kind === 'line'
      ? { ...p, start: p.end, end: p.start, direction: negate(p.direction) }
      : {
          ...p,
          start: p.end,
          end: p.start,
          normal: negate(p.normal),
          direction: negate(turnDirection(p.direction, p.normal, p.angleRad)),
        },
  )

function numbered(pieces: readonly Piece[]): Piece[] {
  let at = 0
  return pieces.map(p => {
    const from = at
    at += p.to - p.from
    return { ...p, from, to: at }
  })
}
