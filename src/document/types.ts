import type { Vec3 } from '../geometry/vec3.ts'

/** The only thing saved. Lengths are millimetres, angles degrees, frames right-handed, +z up. */
export interface SkidDocument {
  readonly format: 'dogleg-skid'
  readonly version: 1
  readonly name: string
  readonly note: string
  /** True for demo data: shown wherever the document's figures are. */
  readonly invented: boolean
  readonly fittings: readonly Fitting[]
  readonly solids: readonly Solid[]
  readonly benders: readonly Bender[]
  readonly runs: readonly Run[]
  readonly clearances: Clearances
  readonly acceptances: readonly Acceptance[]
}

/** Where a tube begins or ends: the port's face, and which way the tube leaves it. */
export interface Fitting {
  readonly id: string
  readonly name: string
  readonly catalogueId: string | null
  /** Centre of the port's face. */
  readonly position: Vec3
  /** Out of the port, towards the tube. Any length but zero; readers normalise. */
  readonly axis: Vec3
  /** How far the tube goes in past the face, ≥ 0. */
  readonly insertionDepth: number
  /** Straight tube wanted outside the face for nut and ferrules, ≥ 0. */
  readonly straightNeeded: number
  /** OD of the tube that fits, or null when any does. */
  readonly tubeOd: number | null
}

export type SolidKind = 'equipment' | 'structure' | 'fitting' | 'floor' | 'keepOut'

interface SolidBase {
  readonly id: string
  readonly name: string
  readonly kind: SolidKind
  /** The fitting whose body this is: a run that ends in that fitting does not clash with it. */
  readonly fitting: string | null
}
/** Centre `at`, full edge lengths `size`, turned about the fixed x, then y, then z axis by `turn` degrees. */
export interface BoxSolid extends SolidBase {
  readonly shape: 'box'
  readonly at: Vec3
  readonly size: Vec3
  readonly turn: Vec3
}
/** Centre `at`, flat ends square to `axis`. */
export interface CylinderSolid extends SolidBase {
  readonly shape: 'cylinder'
  readonly at: Vec3
  readonly axis: Vec3
  readonly length: number
  readonly radius: number
}
export interface SphereSolid extends SolidBase {
  readonly shape: 'sphere'
  readonly at: Vec3
  readonly radius: number
}
/** The half space behind the plane through `at`; `normal` points to the free side. */
export interface PlaneSolid extends SolidBase {
  readonly shape: 'plane'
  readonly at: Vec3
  readonly normal: Vec3
}
export type Solid = BoxSolid | CylinderSolid | SphereSolid | PlaneSolid

export interface Tube {
  readonly catalogueId: string | null
  readonly od: number
  readonly wall: number
  /** Id in shared/materials.json, or the user's own word. */
  readonly material: string
}

export interface Vertex {
  /** Unique in the run; stays with the vertex through every edit. */
  readonly id: string
  readonly at: Vec3
}

export type RunEnd =
  | { readonly kind: 'port'; readonly fitting: string }
  | { readonly kind: 'free'; readonly at: Vec3 }

export interface Run {
  readonly id: string
  /** Line number on the drawing; unique in the document. */
  readonly tag: string
  readonly service: string
  readonly tube: Tube
  readonly clr: number
  /** Id of a bender in the document, or null when none is chosen: then its checks are "not checked". */
  readonly bender: string | null
  readonly endA: RunEnd
  readonly vertices: readonly Vertex[]
  readonly endB: RunEnd
  /** Added to the cut length, ≥ 0. */
  readonly trimAllowance: number
  /** Thickness of insulation outside the tube, ≥ 0. */
  readonly insulation: number
  readonly quantity: number
}

/** Solids of the bender in the bench frame (see bench/): origin at the start-of-bend tangent point. */
export type BenchSolid =
  | {
      readonly shape: 'box'
      readonly name: string
      readonly at: Vec3
      readonly size: Vec3
      readonly turn: Vec3
    }
  | {
      readonly shape: 'cylinder'
      readonly name: string
      readonly at: Vec3
      readonly axis: Vec3
      readonly length: number
      readonly radius: number
    }

export interface Tooling {
  readonly id: string
  readonly od: number
  readonly clr: number
  /** 'settled': measured on a bend after springback; 'die': the die's own radius. */
  readonly clrMeasured: 'settled' | 'die'
  readonly clampGrip: number
  readonly followerLength: number
  /** How far behind the tangent point (towards the tail) the die's reference line sits; may be negative. */
  readonly referenceOffset: number
  /** Largest angle the stop allows, degrees. */
  readonly maxAngle: number
  /** How much longer the tube gets in a 90° bend, mm; in proportion for others. Left out: not known, taken as 0. */
  readonly stretchAt90?: number
}

export interface Springback {
  readonly material: string
  /** Commanded less settled angle = offset + perDegree · wanted, degrees; from trial bends. */
  readonly offset: number
  readonly perDegree: number
  /** Wanted angles the trials covered, or null when it was only assumed. */
  readonly range: readonly [number, number] | null
}

export interface Bender {
  readonly id: string
  readonly name: string
  readonly catalogueId: string | null
  readonly note: string
  readonly hand: 'left' | 'right'
  readonly kind: 'rotaryDraw' | 'compression'
  readonly tooling: readonly Tooling[]
  readonly springback: readonly Springback[]
  /** Stand still. */
  readonly housing: readonly BenchSolid[]
  /** Turn with the die about its axis; given where they stand at bend angle 0. */
  readonly arm: readonly BenchSolid[]
  /** Bench top as a plane at height z (negative: below the tube), or null for a free-standing bender. */
  readonly benchTop: number | null
  /** Edge of the bench top seen from above: no bench where (p − at)·outward > 0. Null: it never ends. */
  readonly benchEdge: {
    readonly at: readonly [number, number]
    readonly outward: readonly [number, number]
  } | null
}

/** Least gap between outsides that the document asks for, by what the tube comes near; mm ≥ 0. */
export interface Clearances {
  readonly tube: number
  readonly equipment: number
  readonly structure: number
  readonly fitting: number
  readonly floor: number
  readonly keepOut: number
}

/** Someone's decision to live with a finding. Its finding is known by `finding`, never by coordinates. */
export interface Acceptance {
  readonly finding: string
  readonly category: 'as built' | 'temporary' | 'low risk' | 'other'
  readonly reason: string
  readonly by: string
  /** ISO 8601 date. */
  readonly on: string
  readonly measured: number | null
  readonly limit: number | null
}
