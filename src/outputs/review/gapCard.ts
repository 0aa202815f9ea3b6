import type { Decided } from '../../checks/decisions.ts'
import { ruleWords } from '../../findings/rules.ts'
import { lerp, type Vec3 } from '../../geometry/vec3.ts'
import type { ClearancePair } from '../../skid/clearance.ts'
import { GREY, line, moved, type PaperItem, rectangle, WHITE, words } from '../paper.ts'
import { textWidth, wrapText } from '../paperFont.ts'
import type { Unit } from '../sheetFlow.ts'
import { fitted } from '../titleBlock.ts'
import { gapPicture } from './gapPicture.ts'
import type { KeyPicture } from './keyPicture.ts'
import { type Figures, missOf } from './names.ts'
import type { Scene } from './scene.ts'
import { HATCH_APART, HATCH_INK, type Look, OUTLINE } from './tubes.ts'

const TITLE = 6.5
const LEGEND = 9
const SPACE = 3
const TEXT = 2.7
const LEAD = 3.7

/** Share of the width that the picture takes. */
const PICTURE = 0.62
export const keySize = (w: number): { w: number; h: number } => ({ w: w * (1 - PICTURE) - SPACE, h: 26 })

export interface CardContext {
  readonly scene: Scene
  readonly key: KeyPicture | null
  readonly figures: Figures
  readonly w: number
  readonly height: number
}

/** "gap 4.80 mm", or "overlap 3.20 mm". */
export const gapWords = (pair: Pick<ClearancePair, 'clearance'>, { length }: Figures): string =>
  pair.clearance < 0 ? `overlap ${length(-pair.clearance)}` : `gap ${length(pair.clearance)}`

/** One open gap: its picture, its figures, and where on the skid it is. */
export function gapCard(
  number: number,
  { finding }: Decided,
  pair: ClearancePair,
  context: CardContext,
): Unit {
  const { scene, key, figures, w, height } = context
  return {
    height,
    draw: (x, y) => {
      const items: PaperItem[] = []
      const between = pair.kind === 'self' ? `${pair.a} and itself` : `${pair.a} and ${pair.b}`
      const title = fitted(`${number}   ${ruleWords(finding.rule)}: ${between}`, w, 3.4, 2.4)
      items.push(words(x, y + 4.4, title.text, title.size, { bold: true }))
      const box = { x: 0, y: 0, w: w * PICTURE, h: height - TITLE - LEGEND - 2.5 }
      const picture = gapPicture(scene, pair, box, gapWords(pair, figures))
      const left = x + w * PICTURE + SPACE
      const right = w * (1 - PICTURE) - SPACE
      if (picture) items.push(...moved(picture.items, x, y + TITLE))
      else {
        items.push(rectangle({ ...box, x, y: y + TITLE }, { stroke: GREY, width: 0.18 }))
        items.push(
          words(x + box.w / 2, y + TITLE + box.h / 2, 'no picture: a part has no outside to draw', TEXT, {
            anchor: 'middle',
          }),
        )
      }
      items.push(...legend(pair, x, y + TITLE + box.h + 1, w * PICTURE))

      const facts: [string, string][] = [
        ['Measured', figures.of(finding.measured, finding)],
        [finding.rule === 'tooClose' ? 'Required' : 'Limit', figures.of(finding.limit, finding)],
        ['Out by', missOf(finding, figures)],
        ...(finding.rule === 'tooClose'
          ? []
          : [['Required', figures.length(pair.required)] as [string, string]]),
        [
          'Figure within',
          // Rounded up: a bound is never written smaller than it is.
          figures.unit === 'mm'
            ? `${Math.max(0.001, Math.ceil(pair.errorBound * 1e3) / 1e3).toFixed(3)} mm`
            : `${Math.max(0.0001, Math.ceil(pair.errorBound / 25.4e-4) / 1e4).toFixed(4)} in`,
        ],
      ]
      let at = y + TITLE + 2.6
      for (const [label, value] of facts) {
        items.push(words(left, at, label, TEXT, { ink: GREY }))
        items.push(words(left + right, at, value, TEXT, { bold: true, anchor: 'end' }))
        at += LEAD
      }
      at += 0.8
      for (const [label, p] of [
        [`Point on ${pair.a}`, pair.pointA],
        [`Point on ${pair.kind === 'self' ? 'itself' : pair.b}`, pair.pointB],
      ] as const) {
        const name = fitted(label, right, 2.4, 2.4)
        items.push(words(left, at, name.text, 2.4, { ink: GREY }))
        const coordinates = fitted(placeWords(p, figures), right, TEXT, 1.9)
        items.push(words(left, at + LEAD - 0.3, coordinates.text, coordinates.size))
        at += 2 * LEAD - 0.6
      }
      for (const text of [picture?.view ?? '', ...(picture?.notes ?? [])]
        .filter(Boolean)
        .flatMap(t => wrapText(t, right, 2.4))) {
        items.push(words(left, at, text, 2.4))
        at += 3.1
      }
      if (key) {
        const { h } = keySize(w)
        const top = y + height - LEGEND - 2.5 - h + 1
        items.push(rectangle({ x: left, y: top, w: right, h }, { stroke: GREY, width: 0.13 }))
        items.push(...key.draw(left, top, lerp(pair.pointA, pair.pointB, 0.5)))
        items.push(words(left, top + h + 3, 'Where on the skid (isometric)', 2.2, { ink: GREY }))
      }
      return items
    },
  }
}

const placeWords = (p: Vec3, { unit, length }: Figures): string =>
  `x ${p
    .map(v => length(v).replace(/ (mm|in)$/, ''))
    .map((v, k) => `${k === 1 ? '  y ' : k === 2 ? '  z ' : ''}${v}`)
    .join('')} ${unit === 'mm' ? 'mm' : 'in'}`

/** Which look is whose: in words, and with a piece of each. */
function legend(pair: ClearancePair, x: number, y: number, w: number): PaperItem[] {
  const on = (place: ClearancePair['placeB']) => (place ? `, ${place.kind} ${place.index + 1}` : '')
  const entries: [Look, string][] = [
    ['first', `${pair.a}${on(pair.placeA)}`],
    ['second', `${pair.b}${on(pair.placeB)}${pair.kind === 'mesh' ? ' (model: its edges)' : ''}`],
    ['near', 'nearby parts'],
  ]
  const items: PaperItem[] = []
  let at = x
  const widths = [w * 0.36, w * 0.36, w * 0.28]
  entries.forEach(([look, text], i) => {
    const { ink, width } = OUTLINE[look]
    items.push(rectangle({ x: at, y: y + 1, w: 8, h: 3.4 }, { fill: WHITE, stroke: ink, width }))
    if (look === 'second' && pair.kind !== 'mesh') {
      // A tube is hatched across, a solid at 45°.
      const lean = pair.kind === 'solid' ? 3.4 : 0
      for (let k = HATCH_APART; k + lean < 8; k += HATCH_APART)
        items.push(line(at + k + lean, y + 1, at + k, y + 4.4, 0.13, HATCH_INK))
    }
    const room = widths[i]! - 11
    const lines = wrapText(text, room, 2.5).slice(0, 2)
    lines.forEach((t, k) => {
      const last = k === lines.length - 1 && wrapText(text, room, 2.5).length > 2
      items.push(words(at + 9.5, y + 3.4 + k * 3.2, last ? `${cut(t, room - textWidth('…', 2.5))}…` : t, 2.5))
    })
    at += widths[i]!
  })
  return items
}

function cut(text: string, room: number): string {
  let n = text.length
  while (n > 0 && textWidth(text.slice(0, n), 2.5) > room) n--
  return text.slice(0, n)
}
