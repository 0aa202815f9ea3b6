import { textWidth, winAnsiCode } from './helvetica.ts'
import { BLACK, type Ink, type PaperItem, type PaperPage, type PathItem, type SharedItem } from './paper.ts'

export interface PdfOptions {
  readonly title: string
  readonly author: string
  /** ISO 8601; given, so that the same pages give the same bytes. */
  readonly date: string
  /** Asks the reader's print dialogue not to scale: for paper that is measured on. */
  readonly noScaling?: boolean
}

const POINTS_PER_MM = 72 / 25.4
const number = (x: number) => {
  const text = x.toFixed(4).replace(/\.?0+$/, '')
  return text === '-0' ? '0' : text
}

/**
 * Pages as a PDF 1.4 file: vector lines and the standard Helvetica, no compression, nothing embedded. One matrix turns
 * each page to mm from the top left, so the numbers in the file are the millimetres of the page.
 */
export function writePdf(pages: readonly PaperPage[], options: PdfOptions): Uint8Array {
  const objects: string[] = []
  const add = (body: string): number => objects.push(body)
  // Objects 1 and 2 are the catalogue and the page tree.
  add('')
  add('')
  const font = (name: string) =>
    add(`<< /Type /Font /Subtype /Type1 /BaseFont /${name} /Encoding /WinAnsiEncoding >>`)
  const regular = font('Helvetica')
  const bold = font('Helvetica-Bold')
  const shared = new Map<readonly PathItem[], { name: string; object: number }>()
  const formOf = (of: readonly PathItem[], size: string): string => {
    const known = shared.get(of)
    if (known) return known.name
    const body = of.map(item => operators(item)).join('\n')
    const object = add(
      `<< /Type /XObject /Subtype /Form /Length ${body.length} /BBox [${size}] >>\nstream\n${body}\nendstream`,
    )
    const name = `X${shared.size + 1}`
    shared.set(of, { name, object })
    return name
  }
  const kids = pages.map(page => {
    const h = page.height * POINTS_PER_MM
    const k = POINTS_PER_MM.toFixed(8)
    const size = `${-page.width} ${-page.height} ${page.width} ${page.height}`
    const drawn = page.items.map(item =>
      item.kind === 'shared'
        ? `q 1 0 0 1 ${number(item.x)} ${number(item.y)} cm /${formOf(item.of, size)} Do Q`
        : operators(item),
    )
    const body = [`${k} 0 0 -${k} 0 ${h.toFixed(6)} cm 1 J 1 j`, ...drawn].join('\n')
    const used = page.items.flatMap(i => (i.kind === 'shared' ? (shared.get(i.of) ?? []) : []))
    const forms = [...new Set(used)].map(f => `/${f.name} ${f.object} 0 R`).join(' ')
    const content = add(`<< /Length ${body.length} >>\nstream\n${body}\nendstream`)
    return add(
      `<< /Type /Page /Parent 2 0 R /MediaBox [0 0 ${(page.width * POINTS_PER_MM).toFixed(4)} ${h.toFixed(4)}] /Resources << /Font << /F1 ${regular} 0 R /F2 ${bold} 0 R >>${forms ? ` /XObject << ${forms} >>` : ''} >> /Contents ${content} 0 R >>`,
    )
  })
  objects[1] = `<< /Type /Pages /Count ${kids.length} /Kids [${kids.map(k => `${k} 0 R`).join(' ')}] >>`
  const scaling = options.noScaling ? ' /PrintScaling /None' : ''
  objects[0] = `<< /Type /Catalog /Pages 2 0 R /ViewerPreferences << /DisplayDocTitle true${scaling} >> >>`
  const stamp = `D:${options.date
    .replace(/[-:TZ]/g, '')
    .slice(0, 14)
    .padEnd(14, '0')}Z`
  const info = add(
    `<< /Title ${unicode(options.title)} /Author ${unicode(options.author)} /Creator (Dogleg) /Producer (Dogleg) /CreationDate (${stamp}) >>`,
  )

  let file = '%PDF-1.4\n%\xE2\xE3\xCF\xD3\n'
  const offsets = objects.map((body, i) => {
    const at = file.length
    file += `${i + 1} 0 obj\n${body}\nendobj\n`
    return at
  })
  const xref = file.length
  file += `xref\n0 ${objects.length + 1}\n0000000000 65535 f \n`
  for (const at of offsets) file += `${String(at).padStart(10, '0')} 00000 n \n`
  file += `trailer\n<< /Size ${objects.length + 1} /Root 1 0 R /Info ${info} 0 R >>\nstartxref\n${xref}\n%%EOF\n`
  return Uint8Array.from(file, c => c.charCodeAt(0))
}

const ink = (c: Ink, operator: string) => `${c.map(number).join(' ')} ${operator}`

function operators(item: Exclude<PaperItem, SharedItem>): string {
  if (item.kind === 'text') {
    const t = ((item.turn ?? 0) * Math.PI) / 180
    const w = textWidth(item.text, item.size, item.bold)
    const along = item.anchor === 'end' ? -w : item.anchor === 'middle' ? -w / 2 : 0
    const [c, s] = [Math.cos(t), Math.sin(t)]
    const at = [item.x + c * along, item.y - s * along]
    const matrix = [c, -s, -s, -c, ...at].map(number).join(' ')
    return `BT ${ink(item.ink ?? BLACK, 'rg')} /F${item.bold ? 2 : 1} ${number(item.size)} Tf ${matrix} Tm (${encoded(item.text)}) Tj ET`
  }
  const path = item.steps
    .map(step => {
      if (step[0] === 'Z') return 'h'
      const operator = step[0] === 'M' ? 'm' : step[0] === 'L' ? 'l' : 'c'
      return `${(step.slice(1) as number[]).map(number).join(' ')} ${operator}`
    })
    .join(' ')
  const paint = item.stroke && item.fill ? 'B' : item.stroke ? 'S' : item.fill ? 'f' : 'n'
  const style = [
    item.stroke ? `${ink(item.stroke, 'RG')} ${number(item.width ?? 0.18)} w` : '',
    item.stroke ? `[${(item.dash ?? []).map(number).join(' ')}] 0 d 0 J` : '',
    item.fill ? ink(item.fill, 'rg') : '',
  ]
  const drawn = `${style.filter(s => s).join(' ')} ${path} ${paint}`
  const { clip } = item
  return clip ? `q ${[clip.x, clip.y, clip.w, clip.h].map(number).join(' ')} re W n ${drawn} Q` : drawn
}

function encoded(text: string): string {
  let out = ''
  for (const c of text) {
    const code = winAnsiCode(c) ?? 63
    const char = String.fromCharCode(code)
    out += char === '(' || char === ')' || char === '\\' ? `\\${char}` : char
  }
  return out
}

/** A text string of the file's own data: UTF-16, so that any name survives. */
function unicode(text: string): string {
  let hex = 'FEFF'
  for (let i = 0; i < text.length; i++) hex += text.charCodeAt(i).toString(16).padStart(4, '0').toUpperCase()
  return `<${hex}>`
}
