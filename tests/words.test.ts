import { readdirSync, readFileSync } from 'node:fs'
import { expect, test } from 'vitest'

/** Words that stand for something that has another name, or that nobody says in a shop, and what is said instead. */
const OTHER_WORDS: readonly (readonly [RegExp, string])[] = [
  [/\b(?:is|are) told\b/i, 'says, shows, reports'],
  [/\basked for\b/i, 'required'],
  [/\bgoes by\b/i, 'uses, follows'],
  [/\bmend(?:s|ed|ing)?\b/i, 'fix, correct'],
  [/\banew\b/i, 'again'],
  [/\blook(?:s|ed)? (?:at it|at)\b/i, 'zoom to, check'],
  [/\bat hand\b/i, 'missing, present'],
  [/\b(?:is|are) wanted\b/i, 'required'],
  [/\bruns? in hand\b/i, 'active run'],
  [/\bviewpoints?\b/i, 'saved view'],
  [/\bapproved\b(?! by$)/i, 'accepted'],
  [/\binspector\b/i, 'Properties'],
  [/\bwheel\b/i, 'dial'],
  [/\boverrun\b/i, 'too short for the bends'],
  [/\bswings? back\b/i, 'returns'],
  [/\bbody of\b/i, 'belongs to'],
  [/\bkept in this browser\b/i, 'saved in this browser'],
  [/\ball the same\b/i, 'anyway'],
  [/\brun into each other\b/i, 'overlap'],
  [/\bsettled angle\b/i, 'finished angle'],
  [/\bis the finished angle\b/i, 'measured angle: the finished one is the bend’s own'],
  [/\bslides? on\b/i, 'slides away from you, towards the clamp'],
  [/\bLaying out\b|\bReviewing\b/, 'Layout, Review'],
]

const sources = readdirSync('src', { recursive: true, encoding: 'utf8' })
  .filter(f => /\.tsx?$/.test(f))
  .map(f => ({
    name: f,
    text: readFileSync(`src/${f}`, 'utf8').replace(/\/\*[\s\S]*?\*\/|(?<=^|\s)\/\/ .*$/gm, ''),
  }))

/** A template's expressions, and what stands in braces in them, become "…". */
const withoutExpressions = (text: string): string => {
  const inner = text.replace(/\$?\{[^{}]*\}/g, '…')
  return inner === text ? text : withoutExpressions(inner)
}

/** Texts of more than one word between quotes, or between tags, without the expressions in them. */
const saidIn = (text: string) =>
  [...text.matchAll(/'(?:[^'\\\n]|\\.)*'|`(?:[^`\\]|\\.)*`|>(?:(?!\w\.\w|&&|\|\|)[^<>{}=;])+</g)]
    .map(m => withoutExpressions(m[0]).slice(1, -1))
    .filter(t => /\S\s+\S/.test(t))

const otherWordsIn = (text: string) =>
  OTHER_WORDS.flatMap(([word, instead]) => (word.test(text) ? [`${word.exec(text)![0]} → ${instead}`] : []))

test('one word for one thing, on screen, on paper and on the command line', () => {
  const found = sources.flatMap(({ name, text }) =>
    saidIn(text).flatMap(t =>
      otherWordsIn(t).map(w => `${name}: ${w}: ${t.replace(/\s+/g, ' ').slice(0, 90)}`),
    ),
  )
  expect(found).toEqual([])
})

test('one word for one thing in the README', () => {
  const prose = readFileSync('README.md', 'utf8').replace(/```[\s\S]*?```/g, '')
  const found = prose.split(/\n\n/).flatMap(p => otherWordsIn(p.replace(/\s+/g, ' ')))
  expect(found).toEqual([])
})

test('another word would be found in a text, in a template and between tags', () => {
  const wrong =
    "const a = 'it is told so'; say`25 mm are asked for`; <p>The run in hand</p>; import './mend.ts'"
  expect(saidIn(wrong).flatMap(otherWordsIn)).toHaveLength(3)
})
