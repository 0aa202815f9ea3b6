import { readdirSync, readFileSync } from 'node:fs'
import { expect, test } from 'vitest'

/** What only an inspector, or nobody, may say of a tube. A centred grid is “safe” in a style sheet only. */
const PROMISE = /certif|guarante|\bsafe(?:ly|ty)?\b/i

const sources = readdirSync('src', { recursive: true, encoding: 'utf8' })
  .filter(f => /\.tsx?$/.test(f) && !/^(?:serve|serviceWorker)/.test(f))
  .map(f => ({
    name: f,
    text: readFileSync(`src/${f}`, 'utf8').replace(/\/\*[\s\S]*?\*\/|^\s*\/\/.*$/gm, ''),
  }))
/** A text between quotes, or between tags. */
const saidIn = (text: string) =>
  [...text.matchAll(/'(?:[^'\\\n]|\\.)*'|`(?:[^`\\]|\\.)*`|>[^<>{}]+</g)].map(m => m[0])

test('nothing on screen, on paper or in the help says certified, guaranteed or safe', () => {
  const said = sources.flatMap(({ name, text }) =>
    saidIn(text)
      .filter(t => PROMISE.test(t) && !/^'[^' ]*'$/.test(t))
      .map(t => `${name}: ${t.slice(0, 80)}`),
  )
  expect(said).toEqual([])
  const prose = readFileSync('README.md', 'utf8').replace(/```[\s\S]*?```/g, '')
  expect(prose.split('\n').filter(line => PROMISE.test(line) && !/certificate/i.test(line))).toEqual([])
})

test('the words that are looked for would be found', () => {
  const wrong = "<p>Certified over the whole motion</p> const a = 'it is safe to bend'"
  expect(saidIn(wrong).filter(t => PROMISE.test(t))).toHaveLength(2)
})
