import file from '../../shared/benders.json' with { type: 'json' }
import type { Bender, Springback, Tooling } from '../../src/document/types.ts'

/** The invented benders, as the catalogue file has them. */
export const BENDERS = file.benders as unknown as readonly Bender[]

export function benderNamed(id: string): Bender {
  const found = BENDERS.find(b => b.id === id)
  if (found === undefined) throw new Error(`no bender ${id}`)
  return found
}

/** The bender's tooling for an OD with a CLR of three times the OD, and its springback for 316. */
export function equipmentFor(bender: Bender, od: number): { tooling: Tooling; springback: Springback } {
  const tooling = bender.tooling.find(t => t.od === od && Math.abs(t.clr - 3 * od) < 1e-9)
  const springback = bender.springback.find(s => s.material === '316')
  if (tooling === undefined || springback === undefined) throw new Error(`no tooling for ${od}`)
  return { tooling, springback }
}

/** A bender without tooling or solids but for what is given. */
export const benderWith = (over: Partial<Bender>): Bender => ({
  id: 'b',
  name: 'test bender',
  catalogueId: null,
  note: '',
  hand: 'left',
  kind: 'rotaryDraw',
  tooling: [],
  springback: [],
  housing: [],
  arm: [],
  benchTop: null,
  benchEdge: null,
  ...over,
})
