import * as v from 'valibot'
import { CATEGORIES, type Category, EARLIER_CATEGORIES } from './acceptanceCategories.ts'
import { BENDER_KINDS } from './benderKinds.ts'
import { LARGEST_LENGTH, LARGEST_LENGTH_WORDS, LARGEST_TUBE, LARGEST_TUBE_WORDS } from './sizeLimits.ts'

/*
 * Every schema's message is what was wanted there, in words; readDocument adds the place and what was found.
 */

/** Counts far over any skid; past them the file is junk and is refused before each entry is looked at. */
export const MOST = { runs: 20_000, vertices: 100_000, parts: 100_000, listed: 1_000 }

const shown = (n: number) => n.toLocaleString('en-GB')

/** A list whose length is looked at before its entries. */
const list = <T extends v.GenericSchema>(entry: T, most: number) =>
  v.pipe(
    v.array(v.unknown(), 'a list'),
    v.maxLength(most, `at most ${shown(most)} entries`),
    v.array(entry, 'a list'),
  )

/**
 * An object with these fields and no others. Entries without a prototype, so that a field named like one every object
 * has (`constructor`, `__proto__`) is unknown and said so.
 */
const fields = <T extends v.ObjectEntries>(entries: T) =>
  v.strictObject(Object.assign(Object.create(null), entries) as T, 'an object')

const text = v.string('text')
const finite = v.pipe(v.number('a number'), v.finite('a finite number'))
const positive = v.pipe(finite, v.gtValue(0, 'a number above 0'))
const notNegative = v.pipe(finite, v.minValue(0, 'a number, 0 or more'))
/** Of millimetres: any sign. */
const place = v.pipe(
  finite,
  v.minValue(-LARGEST_LENGTH, `at most ${LARGEST_LENGTH_WORDS} from 0`),
  v.maxValue(LARGEST_LENGTH, `at most ${LARGEST_LENGTH_WORDS} from 0`),
)
const long = v.maxValue<number, number, string>(LARGEST_LENGTH, `a length of at most ${LARGEST_LENGTH_WORDS}`)
const thick = v.maxValue<number, number, string>(LARGEST_TUBE, `at most ${LARGEST_TUBE_WORDS}`)
const lengthAbove0 = v.pipe(positive, long)
const lengthFrom0 = v.pipe(notNegative, long)
const thickness = v.pipe(positive, thick)
const id = v.pipe(
  text,
  v.minLength(1, 'an id: text that is not empty'),
  v.maxLength(200, 'an id of at most 200 characters'),
  v.check(s => !s.includes(':'), 'an id without ":", which joins ids in a finding'),
)
const orNull = <T extends v.GenericSchema>(schema: T) => v.nullable(schema)

const vec3 = v.strictTuple([finite, finite, finite], 'a list of three numbers')
const placed = v.strictTuple([place, place, place], 'a list of three numbers')
const placed2 = v.strictTuple([place, place], 'a list of two numbers')
const vec2 = v.strictTuple([finite, finite], 'a list of two numbers')
const axis = v.pipe(
  vec3,
  v.check(
    a => Math.hypot(...a) > 0 && Number.isFinite(Math.hypot(...a)),
    'a direction: not all three 0, and of a length that can be held',
  ),
)
const edges = v.strictTuple([lengthAbove0, lengthAbove0, lengthAbove0], 'three lengths above 0')

const fitting = fields({
  id,
  name: text,
  catalogueId: orNull(text),
  position: placed,
  axis,
  insertionDepth: lengthFrom0,
  straightNeeded: lengthFrom0,
  tubeOd: orNull(thickness),
})

const KINDS = ['equipment', 'structure', 'fitting', 'floor', 'keepOut'] as const
const solidBase = {
  id,
  name: text,
  kind: v.picklist(KINDS, `one of ${KINDS.join(', ')}`),
  fitting: orNull(text),
}
const solid = v.variant(
  'shape',
  [
    fields({ ...solidBase, shape: v.literal('box'), at: placed, size: edges, turn: vec3 }),
    fields({
      ...solidBase,
      shape: v.literal('cylinder'),
      at: placed,
      axis,
      length: lengthAbove0,
      radius: lengthAbove0,
    }),
    fields({ ...solidBase, shape: v.literal('sphere'), at: placed, radius: lengthAbove0 }),
    fields({ ...solidBase, shape: v.literal('plane'), at: placed, normal: axis }),
  ],
  'one of box, cylinder, sphere, plane',
)

const MODEL_KINDS = [...KINDS, 'leftOut'] as const
const modelKind = v.picklist(MODEL_KINDS, `one of ${MODEL_KINDS.join(', ')}`)
const model = fields({
  id,
  name: text,
  fileName: text,
  hash: v.pipe(text, v.regex(/^[0-9a-f]{64}$/, 'a SHA-256 hash: 64 lower-case hexadecimal digits')),
  bytes: v.pipe(positive, v.integer('a whole number')),
  format: v.picklist(['step', 'gltf', 'stl', 'obj'], 'one of step, gltf, stl, obj'),
  unitMm: positive,
  up: v.picklist(['y', 'z'], 'one of y, z'),
  at: placed,
  turn: vec3,
  kind: modelKind,
  fitting: orNull(text),
  parts: list(
    fields({
      key: v.pipe(
        text,
        v.minLength(1, 'a key: text that is not empty'),
        v.check(s => !s.includes(':'), 'a key without ":", which joins ids in a finding'),
      ),
      kind: modelKind,
      fitting: orNull(text),
    }),
    MOST.parts,
  ),
})

const support = fields({
  id,
  name: text,
  type: v.pipe(text, v.minLength(1, 'what is ordered: text that is not empty')),
  run: text,
  at: placed,
})

const viewpoint = fields({
  id,
  name: text,
  note: text,
  by: text,
  on: v.pipe(text, v.isoDate('a date as 2026-03-31')),
  target: placed,
  yaw: finite,
  pitch: v.pipe(finite, v.minValue(-90, 'an angle of −90 to 90°'), v.maxValue(90, 'an angle of −90 to 90°')),
  span: lengthAbove0,
  projection: v.picklist(['perspective', 'orthographic'], 'one of perspective, orthographic'),
  section: orNull(fields({ at: placed, normal: axis })),
  hidden: list(text, MOST.parts),
})

const runEnd = v.variant(
  'kind',
  [fields({ kind: v.literal('port'), fitting: text }), fields({ kind: v.literal('free'), at: placed })],
  'one of port, free',
)

const run = fields({
  id,
  tag: v.pipe(text, v.minLength(1, 'a tag: text that is not empty')),
  service: text,
  tube: fields({ catalogueId: orNull(text), od: thickness, wall: thickness, material: text }),
  clr: lengthAbove0,
  bender: orNull(text),
  endA: runEnd,
  vertices: list(fields({ id, at: placed }), MOST.vertices),
  endB: runEnd,
  trimAllowance: lengthFrom0,
  insulation: v.pipe(notNegative, thick),
  insulationCutBack: v.exactOptional(lengthFrom0),
  quantity: v.pipe(finite, v.safeInteger('a whole number'), v.minValue(1, 'a whole number, 1 or more')),
})

const benchSolid = v.variant(
  'shape',
  [
    fields({ shape: v.literal('box'), name: text, at: placed, size: edges, turn: vec3 }),
    fields({
      shape: v.literal('cylinder'),
      name: text,
      at: placed,
      axis,
      length: lengthAbove0,
      radius: lengthAbove0,
    }),
  ],
  'one of box, cylinder',
)

const UNMEASURED = ['clampGrip', 'followerLength', 'referenceOffset', 'maxAngle'] as const

export const benderSchema = fields({
  id,
  name: text,
  catalogueId: orNull(text),
  note: text,
  hand: v.picklist(['left', 'right'], 'one of left, right'),
  kind: v.picklist(BENDER_KINDS, `one of ${BENDER_KINDS.join(', ')}`),
  tooling: list(
    fields({
      id,
      od: thickness,
      clr: lengthAbove0,
      clrMeasured: v.picklist(['settled', 'die'], 'one of settled, die'),
      clampGrip: lengthFrom0,
      followerLength: lengthFrom0,
      referenceOffset: place,
      maxAngle: v.pipe(positive, v.maxValue(360, 'an angle of at most 360°')),
      stretchAt90: v.exactOptional(place),
      notMeasured: v.exactOptional(
        list(v.picklist(UNMEASURED, `one of ${UNMEASURED.join(', ')}`), UNMEASURED.length),
      ),
    }),
    MOST.listed,
  ),
  springback: list(
    fields({
      material: text,
      offset: finite,
      perDegree: finite,
      range: orNull(vec2),
    }),
    MOST.listed,
  ),
  housing: list(benchSolid, MOST.listed),
  arm: list(benchSolid, MOST.listed),
  tubeOutFirst: v.exactOptional(v.boolean('true or false')),
  margin: v.exactOptional(lengthFrom0),
  followerGap: v.exactOptional(lengthFrom0),
  benchTop: orNull(place),
  benchEdge: orNull(
    fields({
      at: placed2,
      outward: v.pipe(
        vec2,
        v.check(a => Math.hypot(...a) > 0, 'a direction: not both 0'),
      ),
    }),
  ),
})

const isEarlier = (word: string): word is keyof typeof EARLIER_CATEGORIES =>
  Object.hasOwn(EARLIER_CATEGORIES, word)
const EARLIER = Object.keys(EARLIER_CATEGORIES) as (keyof typeof EARLIER_CATEGORIES)[]
const category = v.pipe(
  v.picklist([...CATEGORIES, ...EARLIER], `one of ${CATEGORIES.join(', ')}`),
  v.transform((word): Category => (isEarlier(word) ? EARLIER_CATEGORIES[word] : word)),
)

export const documentSchema = fields({
  format: v.literal('dogleg-skid', '"dogleg-skid"'),
  version: v.literal(2, '2'),
  name: text,
  note: text,
  invented: v.boolean('true or false'),
  fittings: list(fitting, MOST.parts),
  solids: list(solid, MOST.parts),
  models: list(model, MOST.listed),
  benders: list(benderSchema, MOST.listed),
  runs: list(run, MOST.runs),
  supports: list(support, MOST.parts),
  supportSpan: orNull(lengthAbove0),
  clearances: fields({
    tube: lengthFrom0,
    equipment: lengthFrom0,
    structure: lengthFrom0,
    fitting: lengthFrom0,
    floor: lengthFrom0,
    keepOut: lengthFrom0,
  }),
  acceptances: list(
    fields({
      finding: text,
      category,
      reason: v.pipe(text, v.minLength(1, 'a reason: text that is not empty')),
      by: v.pipe(text, v.minLength(1, 'a name: text that is not empty')),
      on: v.pipe(text, v.isoDate('a date as 2026-03-31')),
      measured: orNull(finite),
      limit: orNull(finite),
    }),
    MOST.parts,
  ),
  viewpoints: list(viewpoint, MOST.listed),
})
