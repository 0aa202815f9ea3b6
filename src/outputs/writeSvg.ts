import { BLACK, type Box, type Ink, type PaperPage, type PathItem, type TextItem } from './paper.ts'
import { textWidth } from './paperFont.ts'

const number = (x: number) => {
  const text = x.toFixed(4).replace(/\.?0+$/, '')
  return text === '-0' ? '0' : text
}
const colour = (c: Ink) => `rgb(${c.map(v => Math.round(v * 255)).join(',')})`

/** A page as SVG 1.1 at its true size in mm. Text stays text: what a user typed is escaped, never markup. */
export function writeSvg(page: PaperPage, title: string): string {
  const groups = [...new Set(page.items.flatMap(i => (i.kind === 'shared' ? [i.of] : [])))]
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${number(page.width)}mm" height="${number(page.height)}mm" viewBox="0 0 ${number(page.width)} ${number(page.height)}" xml:space="preserve">`,
    `<title>${escaped(title)}</title>`,
    ...definitions(page, groups),
    ...page.items.map(item =>
      item.kind === 'shared'
        ? `<use href="#shared_${groups.indexOf(item.of)}" x="${number(item.x)}" y="${number(item.y)}"/>`
        : element(item),
    ),
    '</svg>',
    '',
  ].join('\n')
}

const clipId = ({ x, y, w, h }: Box) => `clip_${[x, y, w, h].map(number).join('_')}`

/** What the items name: the windows that they are seen through and the drawings that are shown at many places. */
function definitions({ items }: PaperPage, groups: readonly (readonly PathItem[])[]): string[] {
  const clips = new Map<string, Box>()
  for (const i of items) if (i.kind === 'path' && i.clip) clips.set(clipId(i.clip), i.clip)
  return [
    ...[...clips].map(
      ([id, { x, y, w, h }]) =>
        `<clipPath id="${id}"><rect x="${number(x)}" y="${number(y)}" width="${number(w)}" height="${number(h)}"/></clipPath>`,
    ),
    ...groups.map((of, k) => `<defs><g id="shared_${k}">${of.map(element).join('')}</g></defs>`),
  ]
}

function element(item: PathItem | TextItem): string {
  if (item.kind === 'text') {
    const turn = item.turn
      ? ` transform="rotate(${number(-item.turn)} ${number(item.x)} ${number(item.y)})"`
      : ''
    // As wide as laid out, whatever font the reader has: what stands beside stays beside.
    const width = textWidth(item.text, item.size, item.bold)
    const wide = width > 0 ? ` textLength="${number(width)}" lengthAdjust="spacingAndGlyphs"` : ''
    const weight = item.bold ? ' font-weight="bold"' : ''
    return `<text x="${number(item.x)}" y="${number(item.y)}" font-family="Helvetica, Arial, sans-serif" font-size="${number(item.size)}"${weight} text-anchor="${item.anchor ?? 'start'}"${wide} fill="${colour(item.ink ?? BLACK)}"${turn}>${escaped(item.text)}</text>`
  }
  const d = item.steps
    .map(step => (step[0] === 'Z' ? 'Z' : `${step[0]}${(step.slice(1) as number[]).map(number).join(' ')}`))
    .join('')
  const stroke = item.stroke
    ? ` stroke="${colour(item.stroke)}" stroke-width="${number(item.width ?? 0.18)}"${item.dash?.length ? ` stroke-dasharray="${item.dash.map(number).join(' ')}"` : ''}`
    : ''
  const part = item.part ? ` class="${item.part}"` : ''
  const clip = item.clip ? ` clip-path="url(#${clipId(item.clip)})"` : ''
  return `<path${part}${clip} d="${d}" fill="${item.fill ? colour(item.fill) : 'none'}"${stroke}/>`
}

/** Markup characters replaced; control characters, which XML cannot hold, become spaces. */
const escaped = (text: string) =>
  text
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters XML 1.0 forbids
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, ' ')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
