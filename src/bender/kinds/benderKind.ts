import type { ConvexSolid } from '../convex.ts'
import type { SideJob } from '../motionPlan.ts'
import type { TubePart } from '../tubePart.ts'

/** All in which one kind of bender differs from another. */
export interface BenderKind {
  /** As the trade calls it. */
  readonly words: string
  /** What does not count as contact while bending: it is held on purpose, and only then. */
  readonly held: string
  /** The side of the tube that the arm takes along as it bends; the other one stands. */
  readonly armTakes: SideJob['side']
  /** Why the tube is taken out after every bend; null where it can stay in and slide on. */
  readonly outAfterEachBend: string | null
  /** What is swept while it bends; what it holds is left out, against what holds it and no more. */
  readonly bendingJobs: (of: WhileBending) => readonly SideJob[]
}

/** What moves how while a bend is made: in the frame of the housing and in the frame of the arm. */
export interface WhileBending {
  readonly housing: readonly ConvexSolid[]
  readonly arm: readonly ConvexSolid[]
  readonly front: readonly TubePart[]
  /** The front beyond what the clamp holds. */
  readonly aheadOfClamp: readonly TubePart[]
  /** The stock that this bend takes, and what of the tail lies behind it. */
  readonly stock: readonly TubePart[]
  readonly behind: readonly TubePart[]
  /** The same, fed to where the bend ends. */
  readonly behindFed: readonly TubePart[]
  /** The bend on the die as it is at the end. */
  readonly wrapped: readonly TubePart[]
  /** Turning with the die; being fed into the bend; both at once; turned back by what springs back; at rest. */
  readonly motions: Readonly<Record<'swing' | 'feed' | 'wrap' | 'springBack' | 'still', SideJob['motion']>>
  readonly job: (
    side: SideJob['side'],
    parts: readonly TubePart[],
    solids: readonly ConvexSolid[],
    motion: SideJob['motion'],
    outward?: boolean,
  ) => SideJob
  /** The stock that goes into the bend, as it passes these solids until it has left the straight. */
  readonly passing: (solids: readonly ConvexSolid[]) => readonly SideJob[]
}
