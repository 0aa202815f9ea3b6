import type { SkidDocument } from '../../document/types.ts'

/** What stands after a skid's name: that it is one, unless its name ends in the word, and whether it is invented. */
export const skidKind = ({ name, invented }: Pick<SkidDocument, 'name' | 'invented'>): string =>
  [/\bskid\s*$/i.test(name) ? '' : 'skid', invented ? 'invented figures' : ''].filter(Boolean).join(', ')
