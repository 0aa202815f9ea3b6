import type { Vec3 } from '../../src/geometry/vec3.ts'

/**
 * A small reader of ASCII DXF, written from the group codes of the DXF reference and not from the writer: pairs of
 * code and value, LINE (10–30, 11–31), ARC (10–30, 40, 50, 51, 210–230) by the arbitrary axis algorithm.
 */
export interface DxfEntity {
  readonly kind: string
  readonly layer: string
  readonly start: Vec3
  readonly end: Vec3
  readonly length: number
  readonly middle: Vec3
}

export function readDxf(text: string): { entities: DxfEntity[]; layers: string[] } {
  const lines = text.split(/\r\n|\n/)
  const pairs: [number, string][] = []
  for (let i = 0; i + 1 < lines.length; i += 2) {
    if (!/^\s*\d+$/.test(lines[i]!))
      throw new Error(`line ${i + 1}: found "${lines[i]}", wanted a group code`)
    pairs.push([Number(lines[i]), lines[i + 1]!])
  }
  if (pairs.at(-1)?.[1] !== 'EOF') throw new Error('no EOF')
  let section = ''
  const records: { kind: string; section: string; codes: Map<number, string> }[] = []
  pairs.forEach(([code, value], i) => {
    if (code === 0) records.push({ kind: value, section, codes: new Map() })
    else records.at(-1)?.codes.set(code, value)
    if (code === 2 && pairs[i - 1]?.[1] === 'SECTION') section = value
  })
  const layers = records.filter(r => r.kind === 'LAYER').map(r => r.codes.get(2) ?? '')
  const entities = records
    .filter(r => r.kind === 'LINE' || r.kind === 'ARC')
    .map((r): DxfEntity => {
      if (r.section !== 'ENTITIES') throw new Error(`${r.kind} in section ${r.section}`)
      const n = (code: number, otherwise?: number) => {
        const v = r.codes.get(code)
        if (v === undefined && otherwise !== undefined) return otherwise
        const x = Number(v)
        if (v === undefined || !Number.isFinite(x)) throw new Error(`${r.kind}: group ${code} is ${v}`)
        return x
      }
      const layer = r.codes.get(8) ?? ''
      if (r.kind === 'LINE') {
        const start: Vec3 = [n(10), n(20), n(30)]
        const end: Vec3 = [n(11), n(21), n(31)]
        const middle = start.map((x, k) => (x + end[k]!) / 2) as unknown as Vec3
        return {
          kind: r.kind,
          layer,
          start,
          end,
          middle,
          length: Math.hypot(...start.map((x, k) => end[k]! - x)),
        }
      }
      const [ex, ey, ez] = [n(210, 0), n(220, 0), n(230, 1)]
      // Wx = (Wy or Wz) × N, made unit; Wy' = N × Wx.
      const near = Math.abs(ex) < 0.015625 && Math.abs(ey) < 0.015625
      const raw = near ? [ez, 0, -ex] : [-ey, ex, 0]
      const l = Math.hypot(...raw)
      const x = raw.map(v => v / l)
      const y = [ey * x[2]! - ez * x[1]!, ez * x[0]! - ex * x[2]!, ex * x[1]! - ey * x[0]!]
      const at = (deg: number): Vec3 => {
        const a = (deg / 180) * Math.PI
        const u = n(10) + n(40) * Math.cos(a)
        const v = n(20) + n(40) * Math.sin(a)
        return [0, 1, 2].map(k => u * x[k]! + v * y[k]! + n(30) * [ex, ey, ez][k]!) as unknown as Vec3
      }
      const from = n(50)
      let to = n(51)
      // DXF arcs run counter-clockwise from the start angle to the end angle.
      while (to <= from) to += 360
      return {
        kind: r.kind,
        layer,
        start: at(from),
        end: at(to),
        middle: at((from + to) / 2),
        length: (n(40) * (to - from) * Math.PI) / 180,
      }
    })
  return { entities, layers }
}
