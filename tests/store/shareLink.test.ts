import { describe, expect, test } from 'vitest'
import { emptyDocument } from '../../src/document/newDocument.ts'
import { documentIn, LONGEST_LINK, linkTo } from '../../src/store/shareLink.ts'
import { seeded } from '../random.ts'

const document = { ...emptyDocument('Ré-seau <b>=1+1</b>'), note: 'two\nlines' }

describe('a link that holds the document', () => {
  test('gives it back exactly, whatever its text', async () => {
    const made = await linkTo(document, 'https://example.test/app/?x=1#old')
    if (!made.ok) throw new Error('too long')
    expect(made.link.startsWith('https://example.test/app/?x=1#skid=')).toBe(true)
    expect(await documentIn(new URL(made.link).hash)).toEqual({ kind: 'document', document })
  })
  test('says how long it would be when it is too long', async () => {
    const random = seeded(5)
    const noise = Array.from({ length: 40_000 }, () => String.fromCharCode(random.whole(33, 126))).join('')
    const made = await linkTo({ ...document, note: noise }, 'https://example.test/')
    expect(made.ok).toBe(false)
    if (!made.ok) expect(made.length).toBeGreaterThan(LONGEST_LINK)
  })
  test('a plain address holds none', async () => {
    expect(await documentIn('')).toEqual({ kind: 'none' })
    expect(await documentIn('#top')).toEqual({ kind: 'none' })
  })
  test('cut off at any place it is damaged, never half a document', async () => {
    const made = await linkTo(document, 'https://example.test/')
    if (!made.ok) throw new Error('too long')
    const hash = new URL(made.link).hash
    for (let cut = 7; cut < hash.length; cut += 9)
      expect((await documentIn(hash.slice(0, cut))).kind).toBe('damaged')
    expect((await documentIn('#skid=%%%')).kind).toBe('damaged')
  })
  test('one that unpacks to far too much is stopped on the way', async () => {
    const zeros = new Blob([new Uint8Array(60 * 1024 * 1024)]).stream()
    const packed = await new Response(zeros.pipeThrough(new CompressionStream('deflate-raw'))).arrayBuffer()
    const answer = await documentIn(`#skid=${Buffer.from(packed).toString('base64url')}`)
    expect(answer).toMatchObject({ kind: 'damaged', reason: expect.stringContaining('more than 50 MB') })
  })
})
