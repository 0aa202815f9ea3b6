import { browserMemory } from '../../store/browserMemory.ts'

/** What was chosen for paper last time; of this browser, not of the document. */
export interface PaperSettings {
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
const NONE: PaperSettings = {
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

/** The kept settings; the plain ones when storage is refused or holds something else. An override is never kept. */
export function paperSettings(): PaperSettings {
  const kept = (browserMemory.value(KEY) ?? {}) as Record<string, unknown>
  const settings: Record<string, string> = { ...NONE }
  for (const key of Object.keys(NONE)) if (typeof kept[key] === 'string') settings[key] = kept[key] as string
  if (!['A4', 'A3', 'Letter'].includes(settings['paper'] ?? '')) settings['paper'] = NONE.paper
  for (const key of ['tolLength', 'tolAngle', 'tolTurn', 'tolEnds'])
    if (!(Number(settings[key]) >= 0)) settings[key] = ''
  if (!['checked', 'A', 'B'].includes(settings['leading'] ?? '')) settings['leading'] = NONE.leading
  return { ...(settings as unknown as PaperSettings), overrideBy: '', overrideReason: '' }
}

export function keepPaperSettings(settings: PaperSettings): void {
  browserMemory.keep(KEY, { ...settings, overrideBy: '', overrideReason: '' })
}
