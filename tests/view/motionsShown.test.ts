import { expect, test } from 'vitest'
import type { Bender } from '../../src/document/types.ts'
import { handling, takeOut } from '../../src/outputs/stepWords.ts'
import type { OrderedBend } from '../../src/solve/bendOrder.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { motionOn, motionsShown } from '../../src/view/bending/motionsShown.ts'
import { type Programme, programmeOf } from '../../src/view/bending/programme.ts'
import { beginsStep, screensOf } from '../../src/view/bending/screens.ts'
import { benchDocument } from './benchDocument.ts'

/** `4A`-like pairs, bends counted from 1. */
const order = (words: string): OrderedBend[] =>
  words.split(' ').map(w => ({ bend: Number(w[0]) - 1, lead: w[1] as 'A' | 'B' }))

function programme(words: string, of: Partial<Bender> = {}): Programme {
  const { document, run } = benchDocument()
  const own = { ...document, benders: document.benders.map(b => ({ ...b, ...of })) }
  const result = programmeOf(own, run, solveRun(own, run), order(words))
  if (!result.ok) throw new Error(result.reason)
  return result.programme
}
const played = (p: Programme, i: number) => motionsShown(p, i, null, null).map(m => m.name)

test('a tube that is put in anew is shown taken out, swung, rotated and put in; nothing of it slides', () => {
  expect(played(programme('1A 3B 2B'), 1)).toEqual([
    'taking out, bend 1',
    'end for end',
    'rotating',
    'putting in',
    'bending',
    'arm back',
    'taking out',
  ])
  expect(played(programme('3A 1A 2A'), 1).slice(0, 3)).toEqual([
    'taking out, bend 3',
    'rotating',
    'putting in',
  ])
  expect(played(programme('1A 2A 3A', { tubeOutFirst: true }), 1)).toEqual([
    'taking out, bend 1',
    'rotating',
    'putting in',
    'bending',
    'taking out',
  ])
  expect(played(programme('1A 2A 3A', { kind: 'compression' }), 2)[0]).toBe('taking out, bend 2')
  expect(played(programme('1A 2A 3A'), 1).slice(0, 2)).toEqual(['sliding', 'rotating'])
})

test('what is done outside is done at one height, above where the made legs reach', () => {
  const p = programme('3A 1A 2A')
  const shown = motionsShown(p, 1, null, null).slice(0, 3)
  const [{ lift } = { lift: 0 }] = shown
  expect(shown.map(m => m.lift)).toEqual([lift, lift, lift])
  // The bend of 30° with 140 mm beyond it.
  expect(lift).toBeGreaterThan(0.5 * 140)
  const [far] = motionsShown(programme('2A 1B 3A'), 1, null, null)
  // The bend of 45° with 160 and 140 mm beyond it.
  expect(far!.lift).toBeGreaterThan(0.7 * 300)
  expect(shown.at(-1)).toMatchObject({ from: lift, to: 0 })
})

test('every screen of a step shows a motion that its words are about, known clearances or not', () => {
  for (const words of ['1A 2A 3A', '3B 2B 1B', '1A 3B 2B', '3A 1A 2A', '2A 1B 3A'])
    for (const of of [{}, { tubeOutFirst: true }, { kind: 'compression', hand: 'right' }] as const) {
      const p = programme(words, of)
      for (const screen of screensOf(p.layout, 'never')) {
        if (!('step' in screen) || screen.kind === 'measure') continue
        const motions = motionsShown(p, screen.step, null, null)
        const { putIn } = p.atDie[screen.step]!
        expect(motions[motionOn(screen, motions)]!.motion).toBe(
          {
            around: 'endForEnd',
            turn: putIn ? 'turnOutside' : 'turn',
            slide: putIn ? 'putIn' : 'slide',
            bend: 'bend',
          }[screen.kind as 'around' | 'turn' | 'slide' | 'bend'],
        )
      }
    }
})

test('the first screen of a step says to take the tube out exactly where the sheet does, in the same words', () => {
  let out = 0
  for (const words of ['1A 2A 3A', '1A 3B 2B', '3A 1A 2A', '2A 1B 3A', '3B 2B 1B'])
    for (const of of [{}, { tubeOutFirst: true }, { kind: 'compression' }] as const) {
      const p = programme(words, of)
      const screens = screensOf(p.layout, 'every')
      p.atDie.forEach((step, i) => {
        const said = takeOut(step)
        const onSheet = handling(step).join(' ')
        expect(onSheet.startsWith('Take the tube out')).toBe(said !== null)
        expect(said !== null).toBe(step.putIn)
        if (said !== null) {
          out++
          expect(onSheet.startsWith(said)).toBe(true)
          expect(said.includes('arm')).toBe('tubeOutFirst' in of)
        }
        const begin = screens.filter(s => 'step' in s && s.step === i && beginsStep(screens, s))
        expect(begin.map(s => s.kind)).toEqual([
          step.turnedEndForEnd ? 'around' : step.putIn && step.turns ? 'turn' : 'slide',
        ])
      })
    }
  expect(out).toBeGreaterThan(20)
})
