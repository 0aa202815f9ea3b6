import type { PaperPage } from '../../src/outputs/paper.ts'

/** Every piece of text on the pages, in the order in which it is drawn. */
export const texts = (pages: readonly PaperPage[]): string[] =>
  pages.flatMap(p => p.items.flatMap(i => (i.kind === 'text' ? [i.text] : [])))
