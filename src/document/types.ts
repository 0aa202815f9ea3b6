import type { Vec3 } from '../geometry/vec3.ts'
import type { Category } from './acceptanceCategories.ts'
import type { BenderKindName } from './benderKinds.ts'

/** The only thing saved. Lengths are millimetres, angles degrees, frames right-handed, +z up. */
export interface SkidDocument {
  readonly format: 'dogleg-skid'
  readonly version: 2
  readonly name: string
  readonly note: string
  /** True for demo data: shown wherever the document's figures are. */
  readonly invented: boolean
  readonly fittings: readonly Fitting[]
  readonly solids: readonly Solid[]
  readonly models: readonly Model[]
  readonly benders: readonly Bender[]
  readonly runs: readonly Run[]
  readonly supports: readonly Support[]
  /** Longest tube wanted from support to support or end, measured along the tube, mm > 0; null: not asked. */
  readonly supportSpan: number | null
  readonly clearances: Clearances
  readonly acceptances: readonly Acceptance[]
  readonly viewpoints: readonly Viewpoint[]
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
  /** The fitting whose body this is, where its port does not stand in the surface: its stub is not measured to it. */
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

/** What a part of a model is to the clearance check; 'leftOut' is seen but never measured. */
export type ModelKind = SolidKind | 'leftOut'

/** Reference geometry out of a file that stays beside the document and is known again by its content. */
export interface Model {
  readonly id: string
  readonly name: string
  /** Its name when it was taken in: what to look for when it is missing. */
  readonly fileName: string
  /** SHA-256 of the file's bytes, 64 lower-case hexadecimal digits. */
  readonly hash: string
  /** Of the file, > 0. */
  readonly bytes: number
  readonly format: 'step' | 'gltf' | 'stl' | 'obj'
  /** Millimetres in one unit of the file, > 0. */
  readonly unitMm: number
  /** The file's axis that points up on the skid. With 'y' the file's x stays x and its z becomes −y. */
  readonly up: 'y' | 'z'
  /** Where the file's origin stands. */
  readonly at: Vec3
  /** About the fixed x, then y, then z axis through `at`, degrees. */
  readonly turn: Vec3
  /** Of every part that `parts` does not name. */
  readonly kind: ModelKind
  readonly fitting: string | null
  readonly parts: readonly ModelPart[]
}

/** What is different about one part of a model. */
export interface ModelPart {
  /** The part's names from the top of the file down; see skid/partKeys. Unique in the model. */
  readonly key: string
  readonly kind: ModelKind
  /** The fitting whose body this is, as with a solid. */
  readonly fitting: string | null
}

/** Holds a run's tube to the skid: a clamp, a clip, a saddle. It stands where it is bolted, wherever the tube goes. */
export interface Support {
  readonly id: string
  readonly name: string
  /** What is ordered, in the user's own words; the bill of material counts by it. */
  readonly type: string
  /** Id of the run it holds. */
  readonly run: string
  /** On the centre line of the tube it is meant to hold. */
  readonly at: Vec3
}

/** A saved look at the skid, with what there is to say about it. */
export interface Viewpoint {
  readonly id: string
  readonly name: string
  readonly note: string
  readonly by: string
  /** ISO 8601 date. */
  readonly on: string
  readonly target: Vec3
  /** Of the eye about the target, counter-clockwise from +x seen from above, degrees. */
  readonly yaw: number
  /** Of the eye above the level, −90 … 90 degrees. */
  readonly pitch: number
  /** Height of what the picture shows at the target, mm > 0. */
  readonly span: number
  readonly projection: 'perspective' | 'orthographic'
  /** Cuts away what lies on the side that `normal` points to; null for none. */
  readonly section: { readonly at: Vec3; readonly normal: Vec3 } | null
  /** Ids of runs, solids and models that were hidden, parts of models as `model/key`. */
  readonly hidden: readonly string[]
}

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
  /** How far from each end's face the insulation begins, ≥ 0. Left out: the straight that the port's nut needs. */
  readonly insulationCutBack?: number
  readonly quantity: number
}

/** Solids of the bender in the bench frame (see bender/): origin at the start-of-bend tangent point. */
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

/** A figure of a tooling that may not be measured yet. */
export type UnmeasuredFigure = 'clampGrip' | 'followerLength' | 'referenceOffset' | 'maxAngle'

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
  /** Figures that nobody has measured: what stands there holds the place and is never used. Left out: all are measured. */
  readonly notMeasured?: readonly UnmeasuredFigure[]
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
  readonly kind: BenderKindName
  readonly tooling: readonly Tooling[]
  readonly springback: readonly Springback[]
  /** Stand still. */
  readonly housing: readonly BenchSolid[]
  /** Turn with the die about its axis; given where they stand at bend angle 0. */
  readonly arm: readonly BenchSolid[]
  /** True: it opens so far that the tube comes out before the arm goes back. Left out: the arm goes back past the tube. */
  readonly tubeOutFirst?: boolean
  /** Gap between follower and clamp to set before a bend, mm ≥ 0, by the bender's manual. Left out: not on record. */
  readonly followerGap?: number
  /** How far the tube is to stay from the bender in an order of bends that is proposed, mm ≥ 0. Left out: 10. */
  readonly margin?: number
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
  readonly category: Category
  readonly reason: string
  readonly by: string
  /** ISO 8601 date. */
  readonly on: string
  readonly measured: number | null
  readonly limit: number | null
}
