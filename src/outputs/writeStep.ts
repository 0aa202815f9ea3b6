import { tubeSizeText } from '../document/tubeSizeText.ts'
import {
  addScaled,
  anySquareTo,
  dot,
  length,
  negate,
  scale,
  sub,
  turnDirection,
  type Vec3,
} from '../geometry/vec3.ts'
import { pointOn } from '../solve/centreLine.ts'
import type { SolidTube } from './solidTubes.ts'

export interface StepOptions {
  /** ISO 8601 date-time that goes into the file's header; given, so that the same document gives the same bytes. */
  readonly date: string
  readonly name: string
}

type Id = number
/** An edge used forwards (+) or backwards (−). */
type Use = readonly [Id, boolean]

/**
 * The tubes as solids in STEP (ISO 10303-21, AP214 schema): cylinders for straights, tori for bends, outside and
 * bore, flat annular ends; one product named by its tag per run; mm. Each wall face is half of its cylinder or torus,
 * so no face needs a seam.
 */
export function writeStep(tubes: readonly SolidTube[], { date, name }: StepOptions): string {
  const lines: string[] = []
  const put = (text: string): Id => {
    lines.push(`#${lines.length + 1}=${text};`)
    return lines.length
  }
  const ref = (ids: readonly Id[]) => `(${ids.map(i => `#${i}`).join(',')})`
  const app = put("APPLICATION_CONTEXT('core data for automotive mechanical design processes')")
  put(`APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,#${app})`)
  const productContext = put(`PRODUCT_CONTEXT('',#${app},'mechanical')`)
  const definitionContext = put(`PRODUCT_DEFINITION_CONTEXT('part definition',#${app},'design')`)
  const mm = put('(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))')
  const rad = put('(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))')
  const sr = put('(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())')
  const sure = put(`UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-6),#${mm},'distance_accuracy_value','')`)
  const context = put(
    `(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#${sure}))GLOBAL_UNIT_ASSIGNED_CONTEXT((#${mm},#${rad},#${sr}))REPRESENTATION_CONTEXT('',''))`,
  )

  const point = (p: Vec3) => put(`CARTESIAN_POINT('',(${p.map(real).join(',')}))`)
  const heading = (d: Vec3) => put(`DIRECTION('',(${d.map(real).join(',')}))`)
  const axes = (at: Vec3, z: Vec3, x: Vec3) =>
    put(`AXIS2_PLACEMENT_3D('',#${point(at)},#${heading(z)},#${heading(x)})`)
  const vertex = (p: Vec3) => put(`VERTEX_POINT('',#${point(p)})`)
  const loop = (uses: readonly Use[]) =>
    put(
      `EDGE_LOOP('',${ref(uses.map(([e, forward]) => put(`ORIENTED_EDGE('',*,*,#${e},${forward ? '.T.' : '.F.'})`)))})`,
    )
  const outerBound = (uses: readonly Use[]) => put(`FACE_OUTER_BOUND('',#${loop(uses)},.T.)`)
  const face = (bounds: readonly Id[], surface: Id, same: boolean) =>
    put(`ADVANCED_FACE('',${ref(bounds)},#${surface},${same ? '.T.' : '.F.'})`)
  const backwards = (uses: readonly Use[]): Use[] => [...uses].reverse().map(([e, f]) => [e, !f])

  /** One wall, outside or bore: its half faces and the half circles at its two ends. */
  const wall = (tube: SolidTube, radius: number, inwards: boolean) => {
    let side = anySquareTo(tube.pieces[0]!.direction)
    const joint = (centre: Vec3, d: Vec3, u: Vec3) => {
      const corners = [vertex(addScaled(centre, u, radius)), vertex(addScaled(centre, u, -radius))] as const
      const circle = put(`CIRCLE('',#${axes(centre, d, u)},${real(radius)})`)
      const half = (a: Id, b: Id) => put(`EDGE_CURVE('',#${a},#${b},#${circle},.T.)`)
      return {
        centre,
        side: u,
        corners,
        halves: [half(corners[0], corners[1]), half(corners[1], corners[0])] as const,
      }
    }
    let from = joint(tube.pieces[0]!.start, tube.pieces[0]!.direction, side)
    const first = from
    const faces: Id[] = []
    for (const piece of tube.pieces) {
      let surface: Id
      let along: (sign: 1 | -1) => Id
      let direction = piece.direction
      if (piece.kind === 'line') {
        surface = put(`CYLINDRICAL_SURFACE('',#${axes(piece.start, piece.direction, side)},${real(radius)})`)
        const start = from
        along = sign => {
          const vector = put(`VECTOR('',#${heading(piece.direction)},1.)`)
          return put(`LINE('',#${point(addScaled(start.centre, start.side, sign * radius))},#${vector})`)
        }
      } else {
        const ahead = scale(sub(piece.start, piece.centre), 1 / piece.radius)
        surface = put(
          `TOROIDAL_SURFACE('',#${axes(piece.centre, piece.normal, ahead)},${real(piece.radius)},${real(radius)})`,
        )
        const start = from
        along = sign => {
          const corner = addScaled(start.centre, start.side, sign * radius)
          const r = sub(corner, piece.centre)
          const rise = dot(r, piece.normal)
          const flat = addScaled(r, piece.normal, -rise)
          const out = scale(flat, 1 / length(flat))
          return put(
            `CIRCLE('',#${axes(addScaled(piece.centre, piece.normal, rise), piece.normal, out)},${real(length(flat))})`,
          )
        }
        direction = pointOn(piece, piece.radius * piece.angleRad).direction
        side = turnDirection(side, piece.normal, piece.angleRad)
      }
      const to = joint(piece.end, direction, side)
      const edges = ([1, -1] as const).map((sign, k) =>
        put(`EDGE_CURVE('',#${from.corners[k]},#${to.corners[k]},#${along(sign)},.T.)`),
      )
      for (const k of [0, 1] as const) {
        const other = k === 0 ? 1 : 0
        const uses: Use[] = [
          [from.halves[k], true],
          [edges[other]!, true],
          [to.halves[k], false],
          [edges[k]!, false],
        ]
        faces.push(face([outerBound(inwards ? backwards(uses) : uses)], surface, !inwards))
      }
      from = to
    }
    return { faces, first, last: from }
  }

  for (const tube of tubes) {
    const outside = wall(tube, tube.od / 2, false)
    const bore = wall(tube, tube.od / 2 - tube.wall, true)
    const faces = [...outside.faces, ...bore.faces]
    const lastPiece = tube.pieces[tube.pieces.length - 1]!
    const leaving =
      lastPiece.kind === 'line'
        ? lastPiece.direction
        : pointOn(lastPiece, lastPiece.radius * lastPiece.angleRad).direction
    for (const [which, normal] of [
      ['first', negate(tube.pieces[0]!.direction)],
      ['last', leaving],
    ] as const) {
      const rim = outside[which]
      const hole = bore[which]
      const turn = (halves: readonly [Id, Id], forward: boolean): Use[] => {
        const uses: Use[] = [
          [halves[0], true],
          [halves[1], true],
        ]
        return forward ? uses : backwards(uses)
      }
      const plane = put(`PLANE('',#${axes(rim.centre, normal, rim.side)})`)
      const inner = put(`FACE_BOUND('',#${loop(turn(hole.halves, which === 'first'))},.T.)`)
      faces.push(face([outerBound(turn(rim.halves, which === 'last')), inner], plane, true))
    }
    const label = quoted(tube.tag)
    const shell = put(`CLOSED_SHELL('',${ref(faces)})`)
    const solid = put(`MANIFOLD_SOLID_BREP(${label},#${shell})`)
    const origin = axes([0, 0, 0], [0, 0, 1], [1, 0, 0])
    const shape = put(`ADVANCED_BREP_SHAPE_REPRESENTATION(${label},(#${origin},#${solid}),#${context})`)
    const about = quoted(`tube ${tubeSizeText(tube, 'mm')}, ${tube.material}`)
    const product = put(`PRODUCT(${label},${label},${about},(#${productContext}))`)
    put(`PRODUCT_RELATED_PRODUCT_CATEGORY('part','',(#${product}))`)
    const formation = put(`PRODUCT_DEFINITION_FORMATION('','',#${product})`)
    const definition = put(`PRODUCT_DEFINITION('design','',#${formation},#${definitionContext})`)
    const defined = put(`PRODUCT_DEFINITION_SHAPE('','',#${definition})`)
    put(`SHAPE_DEFINITION_REPRESENTATION(#${defined},#${shape})`)
  }
  const stamp = quoted(date.slice(0, 19))
  return [
    'ISO-10303-21;',
    'HEADER;',
    "FILE_DESCRIPTION(('bent tubes as solids'),'2;1');",
    `FILE_NAME(${quoted(name)},${stamp},(''),(''),'Dogleg','Dogleg','');`,
    "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));",
    'ENDSEC;',
    'DATA;',
    ...lines,
    'ENDSEC;',
    'END-ISO-10303-21;',
    '',
  ].join('\n')
}

/** A real of ISO 10303-21: a decimal point always, the exponent with a capital E. */
function real(x: number): string {
  const [digits = '0', power] = String(x + 0 === 0 ? 0 : x).split('e')
  const pointed = digits.includes('.') ? digits : `${digits}.`
  return power === undefined ? pointed : `${pointed}E${power.replace('+', '')}`
}

/** A string of ISO 10303-21: quotes and backslashes doubled, anything past printable ASCII as \X4\ code points. */
function quoted(text: string): string {
  let out = ''
  for (const char of text) {
    const code = char.codePointAt(0)!
    if (char === "'") out += "''"
    else if (char === '\\') out += '\\\\'
    else if (code >= 0x20 && code <= 0x7e) out += char
    else out += `\\X4\\${code.toString(16).toUpperCase().padStart(8, '0')}\\X0\\`
  }
  return `'${out}'`
}
