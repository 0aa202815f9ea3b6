import jsQR from 'jsqr'
import { describe, expect, test } from 'vitest'
import { orderFrom } from '../../src/bender/layOut.ts'
import { movePoint } from '../../src/document/edits.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { benchRun } from '../../src/outputs/benchLayout.ts'
import { sheetPages, sheetPdf } from '../../src/outputs/fabricationSheet.ts'
import { LEAST_MODULE, qrMark } from '../../src/outputs/qrMark.ts'
import { findByCode, plainCode, runCode } from '../../src/outputs/runCode.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { type Raster, rasterise } from './rasterise.ts'
import { SAMPLE, SOLVED } from './sampleDocument.ts'

const OPTIONS = { date: '2026-03-04T05:06:07Z', findings: [] }
const APP = 'http://192.168.10.24:4173/'
const codeOf = (document: SkidDocument, i = 0) => {
  const solved = solveDocument(document)[i]!
  return runCode(benchRun(document, solved), solved)
}
const CODE = codeOf(SAMPLE)

function scanned({ width, height, grey }: Raster): string | null {
  const rgba = new Uint8ClampedArray(4 * width * height)
  grey.forEach((v, i) => {
    rgba.fill(v, 4 * i, 4 * i + 3)
    rgba[4 * i + 3] = 255
  })
  return jsQR(rgba, width, height)?.data ?? null
}

describe('the QR symbol on a printed sheet, read by a scanner that we did not write', () => {
  for (const paper of ['A4', 'A3', 'Letter'] as const)
    test(`${paper}: it says the code, and the link when the address of the app is known`, async () => {
      const plain = await rasterise(await sheetPdf(SAMPLE, [SOLVED[0]!], { ...OPTIONS, paper }), 200)
      expect(scanned(plain[0]!)).toBe(CODE)
      const linked = await rasterise(
        await sheetPdf(SAMPLE, [SOLVED[0]!], { ...OPTIONS, paper, appUrl: APP }),
        200,
      )
      expect(scanned(linked[0]!)).toBe(`${APP}#sheet=${CODE}`)
    })

  test('nothing else is printed in its quiet zone of four modules', async () => {
    const qr = qrMark(CODE)
    for (const page of sheetPages(SAMPLE, SOLVED[0]!, OPTIONS).slice(0, 1)) {
      const mark = page.items.find(i => i.kind === 'path' && i.steps.length === qr.item.steps.length)
      if (mark?.kind !== 'path') throw new Error('no symbol on the sheet')
      const corner = mark.steps.flatMap(s => (s[0] === 'M' ? [[s[1], s[2]] as const] : []))
      const x = Math.min(...corner.map(c => c[0])) - 4 * qr.module
      const y = Math.min(...corner.map(c => c[1])) - 4 * qr.module
      const inside = (px: number, py: number) =>
        px > x + 0.01 && px < x + qr.size - 0.01 && py > y + 0.01 && py < y + qr.size - 0.01
      for (const item of page.items) {
        if (item === mark) continue
        if (item.kind === 'text') expect(inside(item.x, item.y), item.text).toBe(false)
        else if (item.kind === 'path')
          for (const s of item.steps) if (s[0] === 'M' || s[0] === 'L') expect(inside(s[1], s[2])).toBe(false)
      }
    }
  })

  test('a module is 0.4 mm or larger whatever the address; a longer address is refused', () => {
    for (let n = 0; n < 150; n++)
      expect(qrMark(`https://${'x'.repeat(n)}.example/#sheet=${CODE}`).module).toBeGreaterThanOrEqual(
        LEAST_MODULE,
      )
    expect(() => qrMark(`https://${'x'.repeat(400)}.example/#sheet=${CODE}`)).toThrow(
      /QR code: found \d+ characters, wanted a text that fits/,
    )
  })
})

describe('a sheet’s code', () => {
  test('finds its run, typed in any case, with or without dashes, or as the whole link', () => {
    for (const typed of [CODE, CODE.toLowerCase(), plainCode(CODE), ` ${CODE} `, `${APP}#sheet=${CODE}`])
      expect(findByCode(SAMPLE, SOLVED, typed)).toEqual({
        runId: 'id-T-101',
        tag: 'T-101',
        code: CODE,
        same: true,
        order: orderFrom('A', 4),
      })
  })

  test('another order of the bends is part of it, and comes back', () => {
    const solved = SOLVED[0]!
    const mixed = [
      { bend: 2, lead: 'B' },
      { bend: 0, lead: 'A' },
      { bend: 1, lead: 'A' },
      { bend: 3, lead: 'B' },
    ] as const
    for (const [order, mark] of [
      [orderFrom('B', 4), 'B'],
      [mixed, '3B1A2A4B'],
    ] as const) {
      const code = runCode(benchRun(SAMPLE, solved, order), solved)
      expect(code).toBe(`${CODE}-${mark}`)
      expect(findByCode(SAMPLE, SOLVED, code)).toMatchObject({ same: true, order })
      expect(findByCode(SAMPLE, SOLVED, plainCode(code).toLowerCase())).toMatchObject({ same: true, order })
    }
    // An order of other bends than the run has is of an older run, whatever the figures.
    for (const wrong of ['1A', '1A2A3A3A', '1A2A3A5A'])
      expect(findByCode(SAMPLE, SOLVED, `${CODE}-${wrong}`)).toMatchObject({ same: false, order: null })
    for (const wrong of ['C', '1', 'BB', '1A2'])
      expect(findByCode(SAMPLE, SOLVED, `${CODE}-${wrong}`)).toBeNull()
  })

  test('finds the run with other figures and says that they are others', () => {
    const moved = movePoint(SAMPLE, 'id-T-101', 'v2', [260, 140.001, 560])
    expect(findByCode(moved, solveDocument(moved), CODE)).toMatchObject({ runId: 'id-T-101', same: false })
  })

  test('changes with what marks and dial depend on at the bender, and with nothing else', () => {
    const bender = SAMPLE.benders[0]!
    const tooling = bender.tooling[0]!
    const others: SkidDocument[] = [
      { ...SAMPLE, benders: [{ ...bender, tooling: [{ ...tooling, referenceOffset: 4 }] }] },
      { ...SAMPLE, benders: [{ ...bender, tooling: [{ ...tooling, stretchAt90: 0.5 }] }] },
      { ...SAMPLE, benders: [{ ...bender, springback: [{ ...bender.springback[0]!, offset: 1.3 }] }] },
      { ...SAMPLE, benders: [{ ...bender, hand: 'right' }] },
    ]
    for (const other of others)
      expect(findByCode(other, solveDocument(other), CODE)).toMatchObject({ same: false })
    const named: SkidDocument = {
      ...SAMPLE,
      name: 'another name',
      supportSpan: 900,
      benders: [{ ...bender, note: 'oiled' }],
    }
    expect(codeOf(named)).toBe(CODE)
  })

  test('of another run, or no code at all, finds nothing', () => {
    expect(codeOf(SAMPLE, 2)).not.toBe(CODE)
    for (const typed of ['', 'T-101', CODE.slice(0, -1), 'ZZZZ-ZZZZ-ZZZZ'])
      expect(findByCode(SAMPLE, SOLVED, typed)).toBeNull()
  })
})
