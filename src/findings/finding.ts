import type { Sentence } from '../document/sentence.ts'
import type { OrderedBend } from '../solve/bendOrder.ts'
import type { Rule } from './rules.ts'

/** What a check answers: one thing wrong (or worth knowing) about one place of the document. */
export type Severity = 'error' | 'warning' | 'note' | 'notChecked'

export interface Where {
  /** Run id, or null when the finding is about the document. */
  readonly run: string | null
  readonly kind:
    | 'run'
    | 'straight'
    | 'bend'
    | 'vertex'
    | 'leg'
    | 'endA'
    | 'endB'
    | 'pair'
    | 'motion'
    | 'support'
  /** Straight, bend (0-based), leg or route index; null when the kind says it all. */
  readonly index: number | null
  /** The other party of a pair: a run id or solid id; of a support, its id. */
  readonly other?: string
}

export interface Finding {
  /** Rule + ids of the parts it concerns, joined by ':'. Never coordinates, never indices that an edit elsewhere shifts. */
  readonly id: string
  readonly rule: Rule
  readonly severity: Severity
  readonly where: Where
  readonly measured: number | null
  readonly limit: number | null
  readonly unit: 'mm' | 'deg' | ''
  /** Of a finding about the bender: the order of bends that it was looked at in; left out when all are made from end A. */
  readonly order?: readonly OrderedBend[]
  /** One plain sentence with place and figures, its lengths exact: `inUnit` writes it as the user reads lengths. */
  readonly sentence: Sentence
  /** The same in mm, for data and the command line; `told` makes both. */
  readonly message: string
}
