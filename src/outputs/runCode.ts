import type { Run } from '../document/types.ts'
import type { SolvedRun } from '../solve/types.ts'

/** Letters and figures that are not taken for one another when read aloud or by hand. */
const LETTERS = '23456789ABCDEFGHJKLMNPQRSTUVWXYZ'

/**
 * A short code of what is bent: tag, tube, CLR, insertions, cut length, straights, angles and rotations, to 1e-6. Same
 * run and figures, same code; the bending view compares it with the printed one. Eight characters, `XXXX-XXXX`;
 * FNV-1a, 64 bits (from memory), of which 40 are shown: it tells revisions apart, it is no proof against forgery.
 */
export function runCode(run: Run, solved: SolvedRun): string {
  const fixed = (x: number | null | undefined) => {
    const text = x === null || x === undefined ? '-' : x.toFixed(6)
    return text === '-0.000000' ? '0.000000' : text
  }
  const said = [
    run.tag,
    run.tube.material,
    ...[run.tube.od, run.tube.wall, run.clr, solved.insertionA, solved.insertionB, solved.cutLength].map(
      fixed,
    ),
    ...(solved.route?.straights.map(fixed) ?? []),
    ...(solved.route?.bends.flatMap(b => [fixed(b.angle), fixed(b.rotation)]) ?? []),
  ].join('|')
  let hash = 0xcbf29ce484222325n
  for (const byte of new TextEncoder().encode(said))
    hash = ((hash ^ BigInt(byte)) * 0x100000001b3n) & 0xffffffffffffffffn
  let code = ''
  for (let i = 0; i < 8; i++) code += LETTERS[Number((hash >> BigInt(5 * i + 24)) & 31n)]
  return `${code.slice(0, 4)}-${code.slice(4)}`
}
