import { readFileSync } from 'node:fs'
import PDFDocument from 'pdfkit'
import { describe, expect, test } from 'vitest'
import type { SkidDocument } from '../../src/document/types.ts'
import { cutList } from '../../src/outputs/cutList.ts'
import { cutListPdf } from '../../src/outputs/cutListSheet.ts'
import { sheetPdf } from '../../src/outputs/fabricationSheet.ts'
import { stripPdf } from '../../src/outputs/markingStrip.ts'
import { notInFont, printed, textWidth, wrapText } from '../../src/outputs/paperFont.ts'
import { fontFile } from '../../src/outputs/readFontFile.ts'
import { reviewPdf } from '../../src/outputs/review/reviewSheets.ts'
import { writePdf } from '../../src/outputs/writePdf.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { pdfText } from '../browser/pdfText.ts'
import { seeded } from '../random.ts'
import { WIDTHS_FILE, widthsFile } from './fontWidthsOf.ts'
import { pdfStrings } from './pdfStrings.ts'
import { SAMPLE } from './sampleDocument.ts'

const DATE = '2026-03-04T05:06:07'
const PLAIN = { kern: false, liga: false, clig: false, calt: false } as unknown as []
/** Letters of alphabets with letters of their own, small ones and capitals. */
const ALPHABETS = {
  Polish: 'aąbcćdeęfghijklłmnńoóprsśtuwyzźż',
  Czech: 'áčďéěíňóřšťúůýž',
  Turkish: 'çğıöşü',
  Icelandic: 'áðéíóúýþæö',
  Latvian: 'āčēģīķļņšūž',
  Romanian: 'ăâîșț',
  Vietnamese: 'ăâđêôơưạảấầẩẫậắằẳẵặẹẻẽếềểễệỉịọỏốồổỗộớờởỡợụủứừửữựỳỵỷỹ',
  Hausa: 'ɓɗƙƴ',
  Greek: 'αβγδεζηθικλμνξοπρσςτυφχψωάέήίόύώϊϋΐΰ',
  'Greek of old': 'ἀἁἂἃἄἅἆἇὰᾳῇῥὦᾧ',
  Russian: 'абвгдеёжзийклмнопрстуфхцчшщъыьэюя',
  Ukrainian: 'ґєії',
  Serbian: 'ђјљњћџ',
  Macedonian: 'ѓѕќ',
  Belarusian: 'ў',
  Kazakh: 'әғқңөұүһі',
} as const

test('the file of widths says what the fonts’ own tables say', async () => {
  expect(readFileSync(WIDTHS_FILE, 'utf8')).toBe(await widthsFile())
})

test.each(Object.entries(ALPHABETS))(
  'the font has every letter of %s, typed as one character or with its marks after it',
  (_, letters) => {
    for (const text of [letters, letters.toUpperCase()]) {
      expect(notInFont(text)).toEqual([])
      expect(printed(text)).toBe(text.normalize('NFC'))
      expect(printed(text.normalize('NFD'))).toBe(text.normalize('NFC'))
      expect(textWidth(text.normalize('NFD'), 3)).toBe(textWidth(text, 3))
    }
  },
)

const SEED = 31
test(`a text is as wide as the PDF library sets it, in both weights, seed ${SEED}`, async () => {
  const random = seeded(SEED)
  const all = `${Object.values(ALPHABETS).join('')} 0123456789.,-–−±°×·/()“”’…€Ω⌀`
  const letters = [...`${all}${all.toUpperCase()}\u0301\u0323`]
  const pdf = new PDFDocument({ font: '' })
  for (const weight of ['regular', 'bold'] as const) {
    pdf.font((await fontFile(weight)) as Buffer, 1000)
    const wide = (text: string) => pdf.widthOfString(printed(text), { features: PLAIN })
    for (const c of letters) expect(textWidth(c, 1000, weight === 'bold'), c).toBeCloseTo(wide(c), 6)
    for (let i = 0; i < 200; i++) {
      const text = Array.from(
        { length: random.whole(1, 30) },
        () => letters[random.whole(0, letters.length - 1)],
      ).join('')
      expect(textWidth(text, 1000, weight === 'bold'), text).toBeCloseTo(wide(text), 6)
    }
  }
})

test('no line breaks between a letter and its mark, however the name was typed', () => {
  const name = 'Zażółćgęśląjaźń'.repeat(6)
  const lines = wrapText(name.normalize('NFD'), 20, 3)
  expect(lines.length).toBeGreaterThan(3)
  expect(lines.join('')).toBe(name)
})

describe('names in Polish, Greek and Cyrillic, as an outside reader reads them back', () => {
  const TAG = 'ŁŻ-Ω7'
  const NAMES = { skid: 'Водяная рама ЇҐ', tag: TAG, service: 'Ψύξη νερού, źródło' }
  const named = (names: typeof NAMES): SkidDocument => ({
    ...SAMPLE,
    name: names.skid,
    runs: SAMPLE.runs.map((r, i) => (i === 0 ? { ...r, tag: names.tag, service: names.service } : r)),
  })
  const papersOf = async (document: SkidDocument) => {
    const solved = solveDocument(document)
    const options = { date: DATE, findings: [] }
    const list = cutList(document, solved, {})
    return {
      sheet: await sheetPdf(document, [solved[0]!], options),
      strip: await stripPdf(document, solved[0]!, options),
      'cut list': await cutListPdf(document, solved, list, options),
      'review report': await reviewPdf(document, solved, { ...options, pairs: [], changes: null }),
    }
  }
  const ON = {
    sheet: [NAMES.tag, NAMES.service],
    strip: [NAMES.tag],
    'cut list': [NAMES.skid, NAMES.tag],
    'review report': [NAMES.skid, NAMES.tag],
  }

  test.each(Object.keys(ON) as (keyof typeof ON)[])('on the %s', async paper => {
    const pdf = (await papersOf(named(NAMES)))[paper]
    const [read, copied] = [await pdfText(pdf), pdfStrings(pdf).join('\n')]
    for (const name of ON[paper]) {
      expect(read).toContain(name)
      expect(copied).toContain(name)
    }
    expect(read).not.toContain('cannot be printed')
    expect((await papersOf(named(NAMES)))[paper]).toEqual(pdf)
  })

  test.each(Object.keys(ON) as (keyof typeof ON)[])(
    'on the %s a letter that the font does not have is a question mark, and the paper says so',
    async paper => {
      const pdf = (await papersOf(named({ ...NAMES, tag: `${TAG}管` })))[paper]
      const read = await pdfText(pdf)
      expect(read).toContain(`${TAG}?`)
      expect(read).toContain('1 character of the names used here cannot be printed')
    },
  )

  test('the file’s title has them too', async () => {
    const title = `Marking strip ${TAG}`
    const file = Buffer.from(
      await writePdf([{ width: 50, height: 50, items: [] }], { title, author: '', date: DATE }),
    )
    expect(file.includes(Buffer.from(title, 'utf16le').swap16())).toBe(true)
  })
})

test('a text stands where it was laid out: its start, middle or end, turned or not', async () => {
  const at = { kind: 'text', x: 30, y: 40, text: 'Łąka Ж', size: 4 } as const
  const pdf = await writePdf(
    [
      {
        width: 100,
        height: 80,
        items: [at, { ...at, anchor: 'end' }, { ...at, anchor: 'middle', turn: 90 }],
      },
    ],
    {
      ...{ title: 't', author: '', date: DATE },
    },
  )
  const file = Buffer.from(pdf).toString('latin1')
  const places = [...file.matchAll(/1 0 0 1 ([-\d.]+) ([-\d.]+) Tm/g)].map(m => Number(m[1]))
  const w = textWidth(at.text, 4)
  expect(places[0]).toBeCloseTo(30, 5)
  expect(places[1]).toBeCloseTo(30 - w, 5)
  expect(places[2]).toBeCloseTo(30 - w / 2, 5)
  expect(pdfStrings(pdf)).toEqual(['Łąka Ж', 'Łąka Ж', 'Łąka Ж'])
})
