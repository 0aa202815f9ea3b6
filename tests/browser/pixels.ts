import type { Page } from 'playwright-core'
import type { Vec3 } from '../../src/geometry/vec3.ts'

/** Where a point of the skid is on the screen once the camera stands still, client px. */
export async function standsAt(page: Page, point: Vec3): Promise<{ x: number; y: number }> {
  await page.evaluate(() => {
    Object.assign(window, { seenAt: '', seenFor: 0 })
  })
  await page.waitForFunction(
    p => {
      const seen = window.dogleg?.project(p as [number, number, number])
      const w = window as unknown as { seenAt?: string; seenFor?: number }
      const now = JSON.stringify(seen)
      w.seenFor = seen && w.seenAt === now ? (w.seenFor ?? 0) + 1 : 0
      w.seenAt = now
      return w.seenFor >= 4
    },
    point as unknown as number[],
    { polling: 100 },
  )
  const at = await page.evaluate(
    p => window.dogleg?.project(p as [number, number, number]) ?? null,
    point as unknown as number[],
  )
  if (!at) throw new Error(`point ${point} is not in the picture`)
  return at
}

/** The mean colour of a square of 3 px there, as it is on the screen: red, green, blue, 0 … 255. */
export async function colourAt(
  page: Page,
  { x, y }: { x: number; y: number },
): Promise<[number, number, number]> {
  const png = await page.screenshot({
    clip: { x: Math.round(x) - 1, y: Math.round(y) - 1, width: 3, height: 3 },
  })
  return page.evaluate(
    async bytes => {
      const image = await createImageBitmap(new Blob([new Uint8Array(bytes)], { type: 'image/png' }))
      const pen = new OffscreenCanvas(3, 3).getContext('2d')!
      pen.drawImage(image, 0, 0)
      const { data } = pen.getImageData(0, 0, 3, 3)
      const mean = (k: number) => {
        let sum = 0
        for (let i = k; i < data.length; i += 4) sum += data[i]!
        return sum / 9
      }
      return [mean(0), mean(1), mean(2)] as [number, number, number]
    },
    [...png],
  )
}

export const differ = (a: readonly number[], b: readonly number[]): number =>
  Math.hypot(...a.map((v, k) => v - b[k]!))

/** Waits until the colour there is at least `by` from another one; gives it. */
export async function colourOther(
  page: Page,
  at: { x: number; y: number },
  from: readonly number[],
  by: number,
): Promise<readonly number[]> {
  for (let n = 0; ; n++) {
    const now = await colourAt(page, at)
    if (differ(now, from) >= by) return now
    if (n > 60)
      throw new Error(`the colour stayed ${now.map(Math.round)}, wanted another than ${from.map(Math.round)}`)
    await page.waitForTimeout(100)
  }
}

/** As {@link standsAt}, once the point is somewhere else than it was: the view has turned. */
export async function standsElsewhere(
  page: Page,
  point: Vec3,
  than: { x: number; y: number },
): Promise<{ x: number; y: number }> {
  await page.waitForFunction(
    ([p, from]) => {
      const seen = window.dogleg?.project(p as [number, number, number])
      const was = from as { x: number; y: number }
      return seen != null && Math.hypot(seen.x - was.x, seen.y - was.y) > 5
    },
    [point, than] as const,
    { polling: 100 },
  )
  return standsAt(page, point)
}
