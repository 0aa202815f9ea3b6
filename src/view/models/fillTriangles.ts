import type { Vec3 } from '../../geometry/vec3.ts'
import type { ReadModel } from '../../skid/models/modelTypes.ts'

interface Page {
  /** A place of the file seen on the page: to the right, down, towards the eye; linear, no perspective. */
  readonly onPage: (x: number, y: number, z: number) => Vec3
  /** From there to the pixels of the canvas: `scale` times the place and a shift. */
  readonly scale: number
  readonly shift: readonly [number, number]
  /** Unit vector towards the light, on the page. */
  readonly light: Vec3
  readonly ink: string
  readonly ground: string
}

/** Fills a model's triangles into the picture, the nearest on top, lighter where they face the light. */
export function fillTriangles(
  pen: CanvasRenderingContext2D,
  parts: ReadModel['parts'],
  { onPage, scale, shift, light, ink, ground }: Page,
): void {
  const { width, height } = pen.canvas
  const [dark, pale] = [colourOf(pen, ink), colourOf(pen, ground)]
  const picture = pen.getImageData(0, 0, width, height)
  const pixels = picture.data
  const nearest = new Float32Array(width * height).fill(Number.NEGATIVE_INFINITY)
  for (const { positions, indices } of parts) {
    const seen = new Float64Array(positions.length)
    for (let i = 0; i < positions.length; i += 3)
      seen.set(onPage(positions[i]!, positions[i + 1]!, positions[i + 2]!), i)
    for (let t = 0; t + 2 < indices.length; t += 3) {
      const [a, b, c] = [3 * indices[t]!, 3 * indices[t + 1]!, 3 * indices[t + 2]!]
      const [ax, ay, az] = [seen[a]!, seen[a + 1]!, seen[a + 2]!]
      const [ux, uy, uz] = [seen[b]! - ax, seen[b + 1]! - ay, seen[b + 2]! - az]
      const [vx, vy, vz] = [seen[c]! - ax, seen[c + 1]! - ay, seen[c + 2]! - az]
      const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx]
      // Seen from its edge it covers nothing.
      if (nz === 0) continue
      const facing = Math.abs(nx * light[0] + ny * light[1] + nz * light[2]) / Math.hypot(nx, ny, nz)
      const share = 0.3 + 0.6 * (1 - facing)
      const px = (x: number) => x * scale + shift[0]
      const py = (y: number) => y * scale + shift[1]
      const xs = [px(ax), px(ax + ux), px(ax + vx)]
      const ys = [py(ay), py(ay + uy), py(ay + vy)]
      const [left, right] = [Math.max(0, Math.floor(Math.min(...xs))), Math.min(width - 1, Math.max(...xs))]
      const [top, bottom] = [Math.max(0, Math.floor(Math.min(...ys))), Math.min(height - 1, Math.max(...ys))]
      for (let y = top; y <= bottom; y++)
        for (let x = left; x <= right; x++) {
          const wx = (x + 0.5 - xs[0]!) / scale
          const wy = (y + 0.5 - ys[0]!) / scale
          const u = (wx * vy - wy * vx) / nz
          const v = (ux * wy - uy * wx) / nz
          if (u < 0 || v < 0 || u + v > 1) continue
          const depth = az + u * uz + v * vz
          const at = y * width + x
          if (depth <= nearest[at]!) continue
          nearest[at] = depth
          for (let k = 0; k < 3; k++) pixels[4 * at + k] = pale[k]! + share * (dark[k]! - pale[k]!)
          pixels[4 * at + 3] = 255
        }
    }
  }
  pen.putImageData(picture, 0, 0)
}

/** Red, green and blue, 0 … 255, of a colour as style sheets write it. */
function colourOf(pen: CanvasRenderingContext2D, colour: string): Uint8ClampedArray {
  const before = pen.getImageData(0, 0, 1, 1)
  pen.fillStyle = colour
  pen.fillRect(0, 0, 1, 1)
  const found = pen.getImageData(0, 0, 1, 1).data
  pen.putImageData(before, 0, 0)
  return found
}
