import { OutputError } from './outputError.ts'
import { BLACK, type Ink, type PaperPage, type PathItem, type TextItem } from './paper.ts'
import { printed, textWidth } from './paperFont.ts'

export interface PdfOptions {
  readonly title: string
  readonly author: string
  /** ISO 8601, read as UTC; given, so that the same pages give the same bytes. */
  readonly date: string
  /** Asks the reader's print dialogue not to scale: for paper that is measured on. */
  readonly noScaling?: boolean
}

type Pdf = PDFKit.PDFDocument
/** What the library's types leave out: the catalogue and where a page lists the drawings it shows. */
type Catalogue = { readonly _root: { readonly data: { ViewerPreferences: PDFKit.PDFKitReference } } }
type Drawings = { readonly xobjects: Record<string, PDFKit.PDFKitReference> }

const POINTS_PER_MM = 72 / 25.4
/** Glyphs stand at the widths that the layout measured: nothing is drawn closer or joined. */
const AS_MEASURED = { kern: false, liga: false, clig: false, calt: false } as unknown as []
const number = (x: number) => {
  const text = x.toFixed(4).replace(/\.?0+$/, '')
  return text === '-0' ? '0' : text
}

/**
 * Pages as a PDF 1.4 file: vector lines, and texts in a font of which the file holds the glyphs that it uses; no
 * compression. One matrix turns each page to mm from the top left, so the numbers in the file are the millimetres of
 * the page.
 *
 * @throws OutputError when the library or the font cannot be loaded.
 */
export async function writePdf(pages: readonly PaperPage[], options: PdfOptions): Promise<Uint8Array> {
  const { PDFDocument, toBytes, regular, bold } = await needed()
  const pdf = new PDFDocument({
    ...{ autoFirstPage: false, compress: false, pdfVersion: '1.4', displayTitle: true, font: '' },
    info: {
      ...{ Title: options.title, Author: options.author, Creator: 'Dogleg', Producer: 'Dogleg' },
      CreationDate: utc(options.date),
    },
  })
  const bytes = toBytes(pdf)
  pdf.registerFont('regular', regular).registerFont('bold', bold)
  if (options.noScaling)
    Object.assign((pdf as unknown as Catalogue)._root.data.ViewerPreferences.data, { PrintScaling: 'None' })
  const shared = new Map<
    readonly PathItem[],
    { readonly name: string; readonly object: PDFKit.PDFKitReference }
  >()
  const drawingOf = (of: readonly PathItem[], { width, height }: PaperPage) => {
    const known = shared.get(of)
    if (known) return known
    const object = pdf.ref({ Type: 'XObject', Subtype: 'Form', BBox: [-width, -height, width, height] })
    object.end(of.map(operators).join('\n'))
    const made = { name: `X${shared.size + 1}`, object }
    shared.set(of, made)
    return made
  }
  for (const page of pages) {
    pdf.addPage({ size: [page.width * POINTS_PER_MM, page.height * POINTS_PER_MM], margin: 0 })
    pdf.scale(POINTS_PER_MM).lineCap('round').lineJoin('round')
    for (const item of page.items) {
      if (item.kind === 'text') drawText(pdf, item)
      else if (item.kind === 'path') pdf.addContent(operators(item))
      else {
        const { name, object } = drawingOf(item.of, page)
        ;(pdf.page as unknown as Drawings).xobjects[name] = object
        pdf.addContent(`q 1 0 0 1 ${number(item.x)} ${number(item.y)} cm /${name} Do Q`)
      }
    }
  }
  pdf.end()
  return bytes
}

/** What writes and the font, loaded with the first paper. */
async function needed() {
  try {
    const [{ default: PDFDocument }, { toBytes }, { fontFile }] = await Promise.all([
      import('pdfkit'),
      import('pdfkit/output'),
      import('#fontFile'),
    ])
    const [regular, bold] = await Promise.all([fontFile('regular'), fontFile('bold')])
    return { PDFDocument, toBytes, regular, bold }
  } catch (error) {
    const found = error instanceof Error ? error.message : String(error)
    throw new OutputError('writing the PDF', found, 'the app’s own library and font')
  }
}

/** Without a zone the library would read the time as the machine's own. */
const utc = (date: string) => new Date(date.includes('T') ? `${date.slice(0, 19)}Z` : date)

function drawText(pdf: Pdf, { x, y, text, size, bold = false, anchor, turn = 0, ink = BLACK }: TextItem) {
  const w = textWidth(text, size, bold)
  const along = anchor === 'end' ? -w : anchor === 'middle' ? -w / 2 : 0
  pdf.font(bold ? 'bold' : 'regular', size)
  if (turn !== 0) pdf.save().rotate(-turn, { origin: [x, y] })
  pdf.addContent(inked(ink, 'rg'))
  pdf.text(printed(text), x + along, y, { lineBreak: false, baseline: 'alphabetic', features: AS_MEASURED })
  if (turn !== 0) pdf.restore()
}

const inked = (c: Ink, operator: string) => `${c.map(number).join(' ')} ${operator}`

function operators(item: PathItem): string {
  const path = item.steps
    .map(step => {
      if (step[0] === 'Z') return 'h'
      const operator = step[0] === 'M' ? 'm' : step[0] === 'L' ? 'l' : 'c'
      return `${(step.slice(1) as number[]).map(number).join(' ')} ${operator}`
    })
    .join(' ')
  const paint = item.stroke && item.fill ? 'B' : item.stroke ? 'S' : item.fill ? 'f' : 'n'
  const style = [
    item.stroke ? `${inked(item.stroke, 'RG')} ${number(item.width ?? 0.18)} w` : '',
    item.stroke ? `[${(item.dash ?? []).map(number).join(' ')}] 0 d 0 J` : '',
    item.fill ? inked(item.fill, 'rg') : '',
  ]
  const drawn = `${style.filter(s => s).join(' ')} ${path} ${paint}`
  const { clip } = item
  return clip ? `q ${[clip.x, clip.y, clip.w, clip.h].map(number).join(' ')} re W n ${drawn} Q` : drawn
}
