import { useThree } from '@react-three/fiber'
import { useEffect, useLayoutEffect, useMemo } from 'react'
import type { Run } from '../../../document/types.ts'
import { overruns } from '../../../solve/overruns.ts'
import type { SolvedRun } from '../../../solve/types.ts'
import type { ThemeColours } from '../themeColours.ts'
import { TubeBatch } from '../tubeBatch.ts'
import { detailForMany } from '../tubeGeometry.ts'
import { bandMaterial, tubeMaterial } from '../tubeMaterials.ts'
import { bandsOfMany } from './bandsOfMany.ts'
import { Overruns, type TubeLook } from './Tubes.tsx'

interface Props {
  readonly runs: readonly Run[]
  /** In the order of `runs`. */
  readonly solved: readonly SolvedRun[]
  readonly hidden: ReadonlySet<string>
  /** Runs that are drawn by themselves, over this. */
  readonly apart: ReadonlySet<string>
  readonly lookOf: (run: Run) => TubeLook
  readonly colours: ThemeColours
  readonly plain: boolean
  /** A gap is under review: what is drawn here has no part in it. */
  readonly faded: boolean
}

/** How long buffers are made before the next picture, ms: a skid of a thousand runs appears bit by bit. */
const AT_ONCE_MS = 12

/** All tubes but those drawn apart, in few draw calls. */
export function ManyTubes(p: Props) {
  const invalidate = useThree(s => s.invalidate)
  const batch = useMemo(() => new TubeBatch(), [])
  const material = tubeMaterial(p.plain, p.faded)
  useEffect(() => () => batch.dispose(), [batch])
  const { detail, bored } = useMemo(
    () =>
      detailForMany(
        p.solved.flatMap(s => (s.route ? [s.route.pieces] : [])),
        p.plain,
      ),
    [p.solved, p.plain],
  )
  useLayoutEffect(() => {
    batch.set(
      p.runs.flatMap((run, i) => {
        const route = p.solved[i]?.route
        if (!route) return []
        const { od, wall } = run.tube
        const shown = !p.hidden.has(run.id) && !p.apart.has(run.id)
        return [{ id: run.id, route, od, wall: bored ? wall : 0, shown, ...p.lookOf(run) }]
      }),
      detail,
    )
    batch.setMaterial(material)
    let next = 0
    const step = () => {
      next = batch.work(AT_ONCE_MS) ? 0 : requestAnimationFrame(step)
      invalidate()
    }
    step()
    return () => cancelAnimationFrame(next)
  })
  const overrun = useMemo(
    () =>
      p.runs.flatMap((run, i) => {
        const route = p.solved[i]?.route
        const drawn = route && !p.hidden.has(run.id) && !p.apart.has(run.id)
        return drawn && overruns(route).length > 0 ? [{ pieces: route.pieces, od: run.tube.od }] : []
      }),
    [p.runs, p.solved, p.hidden, p.apart],
  )
  const banded = useMemo(
    () =>
      p.faded
        ? []
        : bandsOfMany(
            p.runs.flatMap((run, i) => {
              const route = p.solved[i]?.route
              const shown = route && !p.hidden.has(run.id) && !p.apart.has(run.id)
              return shown ? [{ route, od: run.tube.od, look: p.lookOf(run) }] : []
            }),
          ),
    [p.runs, p.solved, p.hidden, p.apart, p.lookOf, p.faded],
  )
  useEffect(
    () => () => {
      for (const { geometry } of banded) geometry.dispose()
    },
    [banded],
  )
  return (
    <>
      <primitive object={batch.group} />
      {banded.map(({ dark, geometry }) => (
        <mesh key={String(dark)} geometry={geometry} material={bandMaterial(dark)} />
      ))}
      <Overruns tubes={overrun} colour={p.colours.error} />
    </>
  )
}
