import { browserMemory } from '../../store/browserMemory.ts'

/** What was chosen for paper last time; of this browser, not of the document. */
export interface PaperWishes {
  readonly paper: 'A4' | 'A3' | 'Letter'
  /** 'checked': as the checks looked at the run, which is the order that clears where one does. */
  readonly leading: 'checked' | 'A' | 'B'
  readonly owner: string
  readonly number: string
  readonly creator: string
  readonly approver: string
  readonly revision: string
  readonly overrideBy: string
  readonly overrideReason: string
  /** ± mm and degrees, as {@link SheetTolerances}; '' for one not given. */
  readonly tolLength: string
  readonly tolAngle: string
  readonly tolTurn: string
  readonly tolEnds: string
  readonly barX: string
  readonly barY: string
  /** The printer that the bars were measured on, in the user's words. */
  readonly printer: string
}

const KEY = 'dogleg-paper'
const NONE: PaperWishes = {
  paper: 'A4',
  leading: 'checked',
  owner: '',
  number: '',
  creator: '',
  approver: '',
  revision: '',
  overrideBy: '',
  overrideReason: '',
  tolLength: '',
  tolAngle: '',
  tolTurn: '',
  tolEnds: '',
  barX: '',
  barY: '',
  printer: '',
}

/** The kept wishes; the plain ones when storage is refused or holds something else. An override is never kept. */
export function paperWishes(): PaperWishes {
  const kept = (browserMemory.value(KEY) ?? {}) as Record<string, unknown>
  const wishes: Record<string, string> = { ...NONE }
  for (const key of Object.keys(NONE)) if (typeof kept[key] === 'string') wishes[key] = kept[key] as string
  if (!['A4', 'A3', 'Letter'].includes(wishes['paper'] ?? '')) wishes['paper'] = NONE.paper
  for (const key of ['tolLength', 'tolAngle', 'tolTurn', 'tolEnds'])
    if (!(Number(wishes[key]) >= 0)) wishes[key] = ''
  if (!['checked', 'A', 'B'].includes(wishes['leading'] ?? '')) wishes['leading'] = NONE.leading
  return { ...(wishes as unknown as PaperWishes), overrideBy: '', overrideReason: '' }
}

export function keepPaperWishes(wishes: PaperWishes): void {
  browserMemory.keep(KEY, { ...wishes, overrideBy: '', overrideReason: '' })
}
