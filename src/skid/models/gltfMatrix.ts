import { type Json, numbersAt } from './gltfFile.ts'

/** A node's transform: 12 numbers, three columns and the shift behind them. */
export interface Matrix {
  readonly columns: readonly number[]
  /** True when it turns a right hand into a left one. */
  readonly mirrors: boolean
  /** Moves points x, y, z one behind another, in place. */
  readonly apply: (positions: Float64Array) => void
}

function matrixOf(c: readonly number[]): Matrix {
  const [a, b, d, e, f, g, h, i, j, x, y, z] = c as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ]
  return {
    columns: c,
    mirrors: a * (f * j - i * g) - e * (b * j - i * d) + h * (b * g - f * d) < 0,
    apply: p => {
      for (let k = 0; k < p.length; k += 3) {
        const [u, v, w] = [p[k]!, p[k + 1]!, p[k + 2]!]
        p[k] = a * u + e * v + h * w + x
        p[k + 1] = b * u + f * v + i * w + y
        p[k + 2] = d * u + g * v + j * w + z
      }
    },
  }
}

export const NO_MOVE: Matrix = matrixOf([1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0])

/** First `inner`, then `outer`. */
export function composed(outer: Matrix, inner: Matrix): Matrix {
  const directions = Float64Array.from(inner.columns.slice(0, 9))
  matrixOf([...outer.columns.slice(0, 9), 0, 0, 0]).apply(directions)
  const shift = Float64Array.from(inner.columns.slice(9))
  outer.apply(shift)
  return matrixOf([...directions, ...shift])
}

/**
 * The node's own transform (glTF 2.0 specification, section 3.5.3): its matrix, or scale, then rotation, then
 * translation.
 *
 * @throws ModelError naming the field whose numbers are not finite or not as many as wanted.
 */
export function localMatrix(node: Json, place: string): Matrix {
  if (node['matrix'] !== undefined) {
    const m = numbersAt(node['matrix'], `${place}.matrix`, 16)
    return matrixOf([0, 1, 2, 4, 5, 6, 8, 9, 10, 12, 13, 14].map(k => m[k]!))
  }
  const read = (field: string, otherwise: readonly number[]): readonly number[] =>
    node[field] === undefined ? otherwise : numbersAt(node[field], `${place}.${field}`, otherwise.length)
  const [x, y, z, w] = read('rotation', [0, 0, 0, 1]) as [number, number, number, number]
  const [sx, sy, sz] = read('scale', [1, 1, 1]) as [number, number, number]
  const shift = read('translation', [0, 0, 0])
  // Quaternions in files are single precision: dividing by their length keeps the scale at 1.
  const n = 2 / (x * x + y * y + z * z + w * w || 1)
  return matrixOf([
    (1 - n * (y * y + z * z)) * sx,
    n * (x * y + z * w) * sx,
    n * (x * z - y * w) * sx,
    n * (x * y - z * w) * sy,
    (1 - n * (x * x + z * z)) * sy,
    n * (y * z + x * w) * sy,
    n * (x * z + y * w) * sz,
    n * (y * z - x * w) * sz,
    (1 - n * (x * x + y * y)) * sz,
    ...shift,
  ])
}
