import { cadKernel } from '../cadKernel.ts'
import { comparePairs, verdict } from './cadPairs.ts'

/**
 * The longer comparison with the CAD kernel: `npx tsx tests/skid/cadKernelMany.ts [count] [seed]`. Prints a count of
 * each verdict and exits with 1 when one of them is against us.
 */
async function main() {
  const count = Number(process.argv[2] ?? 400)
  const seed = Number(process.argv[3] ?? 2026)
  const counts = new Map<string, number>()
  for (const pair of comparePairs(await cadKernel(), seed, count)) {
    const said = verdict(pair)
    counts.set(said, (counts.get(said) ?? 0) + 1)
  }
  console.log(`seed ${seed}, ${count} pairs:`, Object.fromEntries(counts))
  if ([...counts.keys()].some(v => v !== 'agree' && v !== 'kernelMissed')) process.exitCode = 1
}

void main()
