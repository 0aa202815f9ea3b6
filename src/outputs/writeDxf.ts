import { cross, dot, unit, type Vec3 } from '../geometry/vec3.ts'
import type { SolidTube } from './solidTubes.ts'

/**
 * The arbitrary axis algorithm of the DXF reference ("Object Coordinate Systems"): the x axis that goes with an
 * extrusion direction; y is n × x.
 */
export function arbitraryAxes(n: Vec3): { x: Vec3; y: Vec3 } {
  const near = Math.abs(n[0]) < 1 / 64 && Math.abs(n[1]) < 1 / 64
  const x = unit(cross(near ? [0, 1, 0] : [0, 0, 1], n)) ?? [1, 0, 0]
  return { x, y: cross(n, x) }
}

/**
 * Centre lines as an ASCII DXF (release 12, which every reader takes): LINE, and ARC with its extrusion vector for
 * arcs in any plane, one layer per run, mm (the header says so), insertions included. Nine decimals: the ends meet within 1e-9 mm.
 */
export function writeDxf(tubes: readonly SolidTube[]): string {
  const out: string[] = []
  const put = (code: number, value: string | number) => {
    out.push(String(code), typeof value === 'number' ? real(value) : value)
  }
  const point = (code: number, p: Vec3) => {
    put(code, p[0])
    put(code + 10, p[1])
    put(code + 20, p[2])
  }
  const layers = layerNames(tubes.map(t => t.tag))
  put(999, 'centre lines, millimetres')
  tubes.forEach((t, i) => {
    put(999, `layer ${layers[i]} is run ${t.tag.replace(/[\r\n]+/g, ' ')}, OD ${t.od} wall ${t.wall}`)
  })
  const section = (name: string) => {
    put(0, 'SECTION')
    put(2, name)
  }
  section('HEADER')
  put(9, '$ACADVER')
  put(1, 'AC1009')
  // Millimetres, and metric: an importer then has nothing to ask.
  put(9, '$INSUNITS')
  out.push('70', '4')
  put(9, '$MEASUREMENT')
  out.push('70', '1')
  put(0, 'ENDSEC')
  section('TABLES')
  put(0, 'TABLE')
  put(2, 'LAYER')
  out.push('70', String(layers.length))
  for (const name of layers) {
    put(0, 'LAYER')
    put(2, name)
    out.push('70', '0', '62', '7')
    put(6, 'CONTINUOUS')
  }
  put(0, 'ENDTAB')
  put(0, 'ENDSEC')
  section('ENTITIES')
  tubes.forEach((tube, i) => {
    for (const piece of tube.pieces) {
      put(0, piece.kind === 'line' ? 'LINE' : 'ARC')
      put(8, layers[i]!)
      if (piece.kind === 'line') {
        point(10, piece.start)
        point(11, piece.end)
        continue
      }
      const { x, y } = arbitraryAxes(piece.normal)
      const angleTo = (p: Vec3) => {
        const r: Vec3 = [p[0] - piece.centre[0], p[1] - piece.centre[1], p[2] - piece.centre[2]]
        const deg = (Math.atan2(dot(r, y), dot(r, x)) * 180) / Math.PI
        return deg < 0 ? deg + 360 : deg
      }
      point(10, [dot(piece.centre, x), dot(piece.centre, y), dot(piece.centre, piece.normal)])
      put(40, piece.radius)
      put(50, angleTo(piece.start))
      put(51, angleTo(piece.end))
      point(210, piece.normal)
    }
  })
  put(0, 'ENDSEC')
  put(0, 'EOF')
  return `${out.join('\r\n')}\r\n`
}

const real = (x: number): string => {
  const text = (Math.abs(x) < 5e-13 ? 0 : x).toFixed(12).replace(/0+$/, '')
  return text.endsWith('.') ? `${text}0` : text
}

/** Release 12 layer names: at most 31 of A–Z, 0–9, $ - _, and each run its own. */
function layerNames(tags: readonly string[]): string[] {
  const taken = new Set<string>()
  return tags.map(tag => {
    const plain =
      tag
        .toUpperCase()
        .replace(/[^A-Z0-9$_-]+/g, '_')
        .slice(0, 26) || 'RUN'
    let name = plain
    for (let i = 2; taken.has(name); i++) name = `${plain}_${i}`
    taken.add(name)
    return name
  })
}
