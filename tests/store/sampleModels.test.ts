import { readFileSync } from 'node:fs'
import { afterEach, expect, test, vi } from 'vitest'
import { modelHash } from '../../src/skid/models/modelHash.ts'
import { modelFileOf, removeModelFile } from '../../src/store/modelFiles.ts'
import { loadSample } from '../../src/store/samples.ts'

const BYTES = new Uint8Array(readFileSync(new URL('../../sample-routes/feed-pump-skid.glb', import.meta.url)))
const HASH = await modelHash(BYTES)

afterEach(async () => {
  vi.unstubAllGlobals()
  // Without IndexedDB a file is kept in memory, and only its other copy cannot be removed.
  await removeModelFile(HASH).catch(() => {})
})

test('a sample brings its model’s file with it, fetched once from the app’s own files', async () => {
  const asked: string[] = []
  vi.stubGlobal('fetch', async (url: string) => {
    asked.push(url)
    return new Response(BYTES)
  })
  expect(await modelFileOf(HASH)).toBeNull()
  const { models } = await loadSample('dense-skid')
  expect(models.map(m => m.hash)).toEqual([HASH])
  const kept = await modelFileOf(HASH)
  expect(await modelHash(new Uint8Array(await kept!.arrayBuffer()))).toBe(HASH)
  await loadSample('dense-skid')
  expect(asked).toHaveLength(1)
  expect(asked[0]).toMatch(/feed-pump-skid[^/]*\.glb$/)
})

test('a sample whose model cannot be fetched opens all the same, and keeps nothing in its place', async () => {
  for (const answer of [new Response('gone', { status: 404 }), new Response('short'), null]) {
    vi.stubGlobal('fetch', async () => {
      if (answer) return answer
      throw new TypeError('no network')
    })
    expect((await loadSample('dense-skid')).models).toHaveLength(1)
    expect(await modelFileOf(HASH)).toBeNull()
  }
})

test('samples without models fetch nothing', async () => {
  const asked = vi.fn()
  vi.stubGlobal('fetch', asked)
  await loadSample('first-route')
  expect(asked).not.toHaveBeenCalled()
})
