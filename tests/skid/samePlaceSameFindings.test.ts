import { expect, test } from 'vitest'
import type { Finding } from '../../src/findings/finding.ts'
import { clearanceFindings } from '../../src/skid/clearanceFindings.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { seeded } from '../random.ts'
import { movedScene, oldName, type PortScene, portScene, renamedScene, sceneMotion } from './portScene.ts'

const found = ({ document, meshes }: PortScene) =>
  clearanceFindings(document, solveDocument(document), meshes)

/** What is said of which parts; the figure apart, because it is compared to a tolerance. */
const gist = (f: Finding, name = (id: string) => id, by = 1) => {
  const parts = f.id.split(':').slice(1).map(name).sort().join(' ')
  return {
    key: `${f.rule} ${f.severity} ${parts} ${((f.limit ?? 0) / by).toFixed(6)}`,
    figure: (f.measured ?? 0) / by,
  }
}
const gists = (findings: readonly Finding[], name?: (id: string) => string, by?: number) =>
  findings.map(f => gist(f, name, by)).sort((a, b) => (a.key < b.key ? -1 : 1))

const SEED = 8080
const SCENES = 40
test(`${SCENES} scenes of ports on, in and beside their bodies: turned, moved, mirrored, scaled, renamed, end for end and shuffled they have the same findings (seed ${SEED})`, () => {
  const random = seeded(SEED)
  const seen = new Map<string, number>()
  for (let k = 0; k < SCENES; k++) {
    const scene = portScene(random)
    const before = gists(found(scene))
    for (const { key } of before) {
      const rule = key.split(' ')[0]!
      seen.set(rule, (seen.get(rule) ?? 0) + 1)
    }
    const same = (what: string, after: ReturnType<typeof gists>) => {
      expect(
        after.map(g => g.key),
        `scene ${k}, ${what}`,
      ).toEqual(before.map(g => g.key))
      after.forEach((g, i) => {
        expect(Math.abs(g.figure - before[i]!.figure), `scene ${k}, ${what}: ${g.key}`).toBeLessThan(2e-6)
      })
    }
    same('renamed and shuffled', gists(found(renamedScene(scene)), oldName))
    same('turned', gists(found(movedScene(scene, sceneMotion(random, 1, false)))))
    same('mirrored', gists(found(movedScene(scene, sceneMotion(random, 1, true)))))
    same('twice as large', gists(found(movedScene(scene, sceneMotion(random, 2, false))), undefined, 2))
  }
  for (const rule of ['clash', 'tooClose', 'portInBody']) expect(seen.get(rule) ?? 0, rule).toBeGreaterThan(5)
})
