import { runOf } from '../../document/lookUp.ts'
import type { SkidDocument, Solid } from '../../document/types.ts'
import { bodiesOf, partWord, type Thing } from '../../skid/measurable.ts'
import type { MeshBody } from '../../skid/parts.ts'
import { solvedRunOf } from '../../store/derived.ts'
import type { ShownGap } from '../../store/sessionStore.ts'

export type Kind = 'tube' | 'line' | 'point' | 'bend' | 'port' | 'solid' | 'model' | 'place'

export interface Choice {
  readonly value: string
  readonly text: string
}

/** What there is to measure, as fields offer it: a kind, one of that kind, and where there are several, a part. */
export interface Measurables {
  readonly document: SkidDocument
  readonly meshes: readonly MeshBody[]
  readonly gap: ShownGap | null
  /** A place that was picked in the picture, or null. */
  readonly picked: Extract<Thing, { kind: 'place' }> | null
}

const KINDS: readonly (readonly [Kind, string])[] = [
  ['tube', 'Tube outside'],
  ['line', 'Centre line'],
  ['point', 'Point of a run'],
  ['bend', 'Bend centre'],
  ['port', 'Port'],
  ['solid', 'Solid'],
  ['model', 'Imported model or part'],
  ['place', 'Place'],
]

/** The kinds of which the document has any. */
export const kindsOf = (of: Measurables): Choice[] =>
  KINDS.filter(([kind]) => onesOf(of, kind).length > 0).map(([value, text]) => ({ value, text }))

/** The things of a kind; a place by its number. */
export function onesOf({ document, meshes, gap, picked }: Measurables, kind: Kind): Choice[] {
  switch (kind) {
    case 'tube':
    case 'line':
    case 'point':
      return document.runs.map(r => ({ value: r.id, text: r.tag }))
    case 'bend':
      return document.runs.filter(r => r.vertices.length > 0).map(r => ({ value: r.id, text: r.tag }))
    case 'port':
      return document.fittings.map(f => ({ value: f.id, text: f.name }))
    case 'solid':
      return document.solids.map(s => ({ value: s.id, text: s.name }))
    case 'model':
      return document.models.flatMap(model => {
        const own = bodiesOf(meshes, model.id)
        const parts = own.map(m => ({ value: m.id, text: m.name }))
        return own.length > 1
          ? [{ value: model.id, text: `${model.name}: all measured parts` }, ...parts]
          : parts
      })
    case 'place':
      return placesOf({ gap, picked }).map((p, i) => ({ value: String(i), text: p.name }))
  }
}

/** The parts of one thing, each with what it is to measure; the first is taken when nothing else is said. */
export function partsOf(
  of: Measurables,
  kind: Kind,
  one: string,
): readonly { readonly text: string; readonly thing: Thing }[] {
  const { document } = of
  switch (kind) {
    case 'tube':
      return [{ text: 'whole', thing: { kind: 'tube', run: one } }]
    case 'line': {
      const pieces = solvedRunOf(document, one)?.route?.pieces ?? []
      return [
        { text: 'whole', thing: { kind: 'centreLine', run: one } },
        ...pieces.flatMap(p =>
          p.kind === 'line'
            ? [
                {
                  text: `straight ${p.straight + 1}`,
                  thing: { kind: 'straight', run: one, straight: p.straight } as const,
                },
              ]
            : [],
        ),
      ]
    }
    case 'point': {
      const ids = ['A', ...(runOf(document, one)?.vertices ?? []).map(v => v.id), 'B']
      return ids.map((id, i) => ({
        text: id === 'A' || id === 'B' ? `end ${id}` : `point ${i + 1}`,
        thing: { kind: 'point', run: one, point: id },
      }))
    }
    case 'bend':
      return (runOf(document, one)?.vertices ?? []).map((v, i) => ({
        text: `at point ${i + 2}`,
        thing: { kind: 'bendCentre', run: one, point: v.id },
      }))
    case 'port':
      return [{ text: 'face', thing: { kind: 'port', fitting: one } }]
    case 'solid': {
      const solid = document.solids.find(s => s.id === one)
      return solid ? partsOfSolid(solid) : []
    }
    case 'model':
      return [{ text: 'whole', thing: { kind: 'model', model: one } }]
    case 'place': {
      const thing = placesOf(of)[Number(one)]
      return thing ? [{ text: 'there', thing }] : []
    }
  }
}

function partsOfSolid(solid: Solid): { text: string; thing: Thing }[] {
  const many = (n: number, make: (k: number) => Extract<Thing, { solid: string }>) =>
    Array.from({ length: n }, (_, k) => ({ text: partWord(make(k), solid), thing: make(k) }))
  const own = { solid: solid.id }
  const whole = { text: 'whole', thing: { kind: 'solid', ...own } as const }
  switch (solid.shape) {
    case 'box':
      return [
        whole,
        ...many(6, face => ({ kind: 'face', ...own, face })),
        ...many(12, edge => ({ kind: 'edge', ...own, edge })),
        ...many(8, corner => ({ kind: 'corner', ...own, corner })),
        ...many(1, () => ({ kind: 'middle', ...own })),
      ]
    case 'cylinder':
      return [
        whole,
        ...many(2, face => ({ kind: 'face', ...own, face })),
        ...many(1, () => ({ kind: 'axis', ...own })),
        ...many(1, () => ({ kind: 'middle', ...own })),
      ]
    case 'sphere':
      return [whole, ...many(1, () => ({ kind: 'middle', ...own }))]
    case 'plane':
      return [whole]
  }
}

/** The ends of the shown gap, and the place that was picked. */
export function placesOf({
  gap,
  picked,
}: Pick<Measurables, 'gap' | 'picked'>): Extract<Thing, { kind: 'place' }>[] {
  const ends = gap
    ? [
        { kind: 'place' as const, at: gap.from, name: 'first end of the gap' },
        { kind: 'place' as const, at: gap.to, name: 'second end of the gap' },
      ]
    : []
  return picked && !ends.some(e => JSON.stringify(e.at) === JSON.stringify(picked.at))
    ? [...ends, picked]
    : ends
}

/** Where a thing stands in the fields. */
export function choiceOf(of: Measurables, thing: Thing): { kind: Kind; one: string } {
  switch (thing.kind) {
    case 'tube':
      return { kind: 'tube', one: thing.run }
    case 'centreLine':
    case 'straight':
      return { kind: 'line', one: thing.run }
    case 'point':
      return { kind: 'point', one: thing.run }
    case 'bendCentre':
      return { kind: 'bend', one: thing.run }
    case 'port':
      return { kind: 'port', one: thing.fitting }
    case 'model':
      return { kind: 'model', one: thing.model }
    case 'place':
      return {
        kind: 'place',
        one: String(placesOf(of).findIndex(p => JSON.stringify(p.at) === JSON.stringify(thing.at))),
      }
    default:
      return { kind: 'solid', one: thing.solid }
  }
}
