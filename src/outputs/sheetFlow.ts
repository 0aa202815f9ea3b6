import { BLACK, type Box, GREY, line, PALE, type PaperItem, rectangle, textBox, words } from './paper.ts'
import { textWidth, wrapText } from './paperFont.ts'

/** Something with a height that goes into a column; `repeat` heads it again when it starts a column in mid-table. */
export interface Unit {
  readonly height: number
  readonly draw: (x: number, y: number) => readonly PaperItem[]
  readonly keepWithNext?: boolean
  readonly repeat?: Unit
}

export const BODY = 3
const LEAD = 4.1

export interface PlacedUnit {
  readonly unit: Unit
  readonly x: number
  readonly y: number
}

/** Puts units one under another into columns, opening columns as they fill. @returns where each stands, by column. */
export function place(units: readonly Unit[], columns: (index: number) => Box): PlacedUnit[][] {
  const out: PlacedUnit[][] = [[]]
  let column = 0
  let box = columns(0)
  let y = box.y
  const put = (unit: Unit) => {
    out[column]!.push({ unit, x: box.x, y })
    y += unit.height
  }
  const roomFor = (i: number): number => {
    let need = 0
    for (let k = i; k < units.length; k++) {
      need += units[k]!.height
      if (!units[k]!.keepWithNext) break
    }
    return need
  }
  units.forEach((unit, i) => {
    if (y > box.y && y + roomFor(i) > box.y + box.h + 1e-6) {
      column++
      out.push([])
      box = columns(column)
      y = box.y
      if (unit.repeat) put(unit.repeat)
    }
    put(unit)
  })
  return out
}

/** What is placed, drawn. @returns the units' items by column. */
export const drawn = (columns: readonly (readonly PlacedUnit[])[]): PaperItem[][] =>
  columns.map(column => column.flatMap(({ unit, x, y }) => unit.draw(x, y)))

/** Units placed and drawn. */
export const flow = (units: readonly Unit[], columns: (index: number) => Box): PaperItem[][] =>
  drawn(place(units, columns))

export const gap = (height: number): Unit => ({ height, draw: () => [] })

/** The units, of which those from `from` to before `to` do not part between columns. They must fit into one. */
export const together = (units: readonly Unit[], from: number, to: number): Unit[] =>
  units.map((unit, i) => (i >= from && i < to - 1 ? { ...unit, keepWithNext: true } : unit))

export const heading = (text: string, width: number): Unit => ({
  height: 6.4,
  keepWithNext: true,
  draw: (x, y) => [words(x, y + 4.4, text, 3.4, { bold: true }), line(x, y + 5.4, x + width, y + 5.4, 0.25)],
})

/** Wrapped sentences, each with a mark before it ('box': one to tick); one unit a sentence, so that they may part between columns. */
export function sentences(texts: readonly string[], width: number, bullet = '•', size = BODY): Unit[] {
  const box = bullet === 'box'
  const indent = box ? 4.4 : textWidth(`${bullet}  `, size)
  return texts.map(text => {
    const lines = wrapText(text, width - indent, size)
    return {
      height: lines.length * LEAD + 0.5,
      draw: (x, y) => [
        box
          ? rectangle({ x, y: y + 0.8, w: 2.5, h: 2.5 }, { stroke: BLACK, width: 0.18 })
          : words(x, y + 3.2, bullet, size),
        ...lines.map((l, i) => words(x + indent, y + 3.2 + i * LEAD, l, size)),
      ],
    }
  })
}

export interface Column {
  readonly title: string
  readonly width: number
  readonly right?: boolean
  readonly bold?: boolean
}

/** A table with ruled rows; cells and titles wrap, the title row comes again at the top of a further column. */
export function table(columns: readonly Column[], rows: readonly (readonly string[])[], size = BODY): Unit[] {
  const width = columns.reduce((a, c) => a + c.width, 0)
  const pad = 1.2
  const lead = size * 1.3
  const row = (cells: readonly string[], head: boolean): Unit => {
    const bold = (c: Column) => head || (c.bold ?? false)
    const s = head ? Math.min(size, 2.8) : size
    const wrapped = columns.map((c, i) => wrapText(cells[i] ?? '', c.width - 2 * pad, s, bold(c)))
    const height = Math.max(...wrapped.map(w => w.length)) * lead + 1.6
    return {
      height,
      ...(head ? { keepWithNext: true } : {}),
      draw: (x, y) => {
        const items: PaperItem[] = []
        if (head) items.push(rectangle({ x, y, w: width, h: height }, { fill: PALE }))
        let at = x
        columns.forEach((c, i) => {
          wrapped[i]!.forEach((text, k) => {
            items.push(
              words(c.right ? at + c.width - pad : at + pad, y + 0.6 + lead * k + s * 0.95, text, s, {
                anchor: c.right ? 'end' : 'start',
                bold: bold(c),
              }),
            )
          })
          at += c.width
        })
        items.push(line(x, y + height, x + width, y + height, head ? 0.25 : 0.1, head ? BLACK : GREY))
        return items
      },
    }
  }
  const head = row(
    columns.map(c => c.title),
    true,
  )
  return [
    head,
    ...rows.map((r, i): Unit => {
      // The last row does not stand alone at the top of a column.
      const keep = i === rows.length - 2 ? { keepWithNext: true } : {}
      return { ...row(r, false), ...keep, repeat: head }
    }),
  ]
}

/** Name and value pairs in `across` columns; a name in capitals has its (one-line) value set large. */
export function facts(pairs: readonly (readonly [string, string])[], width: number, across: number): Unit[] {
  const w = width / across
  const units: Unit[] = []
  for (let i = 0; i < pairs.length; i += across) {
    const cells = pairs.slice(i, i + across).map(([name, value]) => ({
      name,
      lines: wrapText(value, w - 2, BODY, true),
      large: name === name.toUpperCase(),
    }))
    const height =
      3.4 + (cells.some(c => c.large) ? 2.4 : 0) + Math.max(...cells.map(c => c.lines.length)) * LEAD + 0.4
    units.push({
      height,
      draw: (x, y) =>
        cells.flatMap(({ name, lines, large }, k) => [
          words(x + k * w, y + 2.7, name, 2.4, { ink: GREY }),
          ...lines.map((l, n) =>
            words(x + k * w, y + (large ? 8 : 6.3) + n * LEAD, l, large ? 5.4 : BODY, { bold: true }),
          ),
        ]),
    })
  }
  return units
}

/** Pairs of texts on a page that lie on each other, for the proof that none do. */
export function overlappingTexts(items: readonly PaperItem[]): string[] {
  const texts = items.flatMap(i =>
    i.kind === 'text' && i.text.trim() !== '' ? [{ t: i, b: textBox(i) }] : [],
  )
  const found: string[] = []
  texts.forEach(({ t, b }, i) => {
    for (const other of texts.slice(i + 1)) {
      const o = other.b
      const slack = 0.05
      if (
        b.x < o.x + o.w - slack &&
        o.x < b.x + b.w - slack &&
        b.y < o.y + o.h - slack &&
        o.y < b.y + b.h - slack
      )
        found.push(`"${t.text}" and "${other.t.text}"`)
    }
  })
  return found
}
