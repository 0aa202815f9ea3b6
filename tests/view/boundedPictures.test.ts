import { expect, test } from 'vitest'
import { LARGEST_LENGTH } from '../../src/document/sizeLimits.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { rulerTicks } from '../../src/view/panels/rulerTicks.ts'
import { floorGrid } from '../../src/view/scene/floorGrid.ts'
import { ghostDashes } from '../../src/view/scene/ghostDashes.ts'
import { documentOf, runOf } from '../document/sampleDocument.ts'

test('a ruler has some thousand ticks at most, however long the tube and however near it is seen', () => {
  for (const unit of ['mm', 'in', 'fraction'] as const)
    for (const length of [1000, LARGEST_LENGTH, 40 * LARGEST_LENGTH, 1e300])
      for (const px of [1e-300, 1e-6, 1e-3, 1, 50]) {
        const ticks = rulerTicks(length, px, unit)
        expect(ticks.length, `${length} mm at ${px} px`).toBeLessThanOrEqual(4001)
        if (length * px > 200) expect(ticks.length).toBeGreaterThan(1)
      }
})

test('the grid under a skid has some hundred lines at most, however large the skid', () => {
  for (const unit of ['mm', 'in'] as const)
    for (const size of [1, 5000, LARGEST_LENGTH, 1e12]) {
      const { fine, strong, step } = floorGrid({ low: [-size, -size, 0], high: [size, size, 0] }, 0, unit)
      expect(fine.length + strong.length).toBeGreaterThan(4)
      expect(fine.length + strong.length, `${size} mm`).toBeLessThanOrEqual(500)
      // Not left off half-way: the lines reach the far side.
      expect(Math.max(...[...fine, ...strong].map(p => p[0]))).toBeGreaterThanOrEqual(size - step)
    }
})

test('the dashes along a ghost are bounded, too', () => {
  const far = LARGEST_LENGTH
  const document = documentOf([
    runOf('r', [
      [far, 0, 0],
      [far, far, 0],
      [-far, far, 0],
    ]),
  ])
  const { route } = solveRun(document, document.runs[0]!)
  expect(ghostDashes(route!.pieces, 6).length).toBeLessThan(40_000)
})
