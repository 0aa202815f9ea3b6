import type { RunEnd, SkidDocument } from './types.ts'

/** One thing wrong with a file. `path` as in `runs[2].tube.od`, empty for the file as a whole. */
export interface DocumentError {
  readonly path: string
  readonly found: string
  readonly wanted: string
  readonly message: string
}

/** The text in quotes, cut where it is longer than a message should carry. */
export const quoted = (s: string): string => JSON.stringify(s.length > 60 ? `${s.slice(0, 57)}…` : s)

/** What the schema cannot see: ids and tags used twice, and names of fittings and benders that are not there. */
export function referenceErrors(document: SkidDocument): DocumentError[] {
  const errors: DocumentError[] = []
  const say = (path: string, found: string, wanted: string) =>
    errors.push({ path, found, wanted, message: `${path}: found ${found}; wanted ${wanted}` })

  const unique = (list: readonly string[], place: (i: number) => string, what: string) => {
    const first = new Map<string, number>()
    list.forEach((name, i) => {
      const before = first.get(name)
      if (before === undefined) first.set(name, i)
      else say(place(i), `${quoted(name)} again`, `${what} that ${place(before)} does not have`)
    })
  }
  const ids = (list: readonly { readonly id: string }[], name: string) =>
    unique(
      list.map(p => p.id),
      i => `${name}[${i}].id`,
      'an id',
    )

  ids(document.fittings, 'fittings')
  ids(document.solids, 'solids')
  ids(document.benders, 'benders')
  ids(document.runs, 'runs')
  ids(document.models, 'models')
  ids(document.supports, 'supports')
  ids(document.viewpoints, 'viewpoints')
  unique(
    document.runs.map(r => r.tag),
    i => `runs[${i}].tag`,
    'a tag',
  )
  document.benders.forEach((b, i) => {
    ids(b.tooling, `benders[${i}].tooling`)
  })

  const fittings = new Set(document.fittings.map(f => f.id))
  const benders = new Set(document.benders.map(b => b.id))
  document.solids.forEach((s, i) => {
    if (s.fitting !== null && !fittings.has(s.fitting))
      say(`solids[${i}].fitting`, quoted(s.fitting), 'the id of a fitting of this document, or null')
  })
  document.models.forEach((m, i) => {
    unique(
      m.parts.map(p => p.key),
      k => `models[${i}].parts[${k}].key`,
      'a key',
    )
    const named: [string, string | null][] = [
      [`models[${i}].fitting`, m.fitting],
      ...m.parts.map((p, k): [string, string | null] => [`models[${i}].parts[${k}].fitting`, p.fitting]),
    ]
    for (const [path, fitting] of named)
      if (fitting !== null && !fittings.has(fitting))
        say(path, quoted(fitting), 'the id of a fitting of this document, or null')
  })
  const runs = new Set(document.runs.map(r => r.id))
  document.supports.forEach((s, i) => {
    if (!runs.has(s.run)) say(`supports[${i}].run`, quoted(s.run), 'the id of a run of this document')
  })
  document.runs.forEach((run, i) => {
    const end = (e: RunEnd, name: string) => {
      if (e.kind === 'port' && !fittings.has(e.fitting))
        say(`runs[${i}].${name}.fitting`, quoted(e.fitting), 'the id of a fitting of this document')
    }
    end(run.endA, 'endA')
    end(run.endB, 'endB')
    if (run.bender !== null && !benders.has(run.bender))
      say(`runs[${i}].bender`, quoted(run.bender), 'the id of a bender of this document, or null')
    ids(run.vertices, `runs[${i}].vertices`)
    run.vertices.forEach((v, k) => {
      if (v.id === 'A' || v.id === 'B')
        say(`runs[${i}].vertices[${k}].id`, quoted(v.id), 'an id other than A and B, which name the ends')
    })
  })
  return errors
}
