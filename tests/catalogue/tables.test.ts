import { describe, expect, test } from 'vitest'
import { FITTING_KINDS, fittingKind } from '../../src/catalogue/fittingKinds.ts'
import { MATERIALS, massPerMetre, materialOf } from '../../src/catalogue/materials.ts'
import { TUBE_SIZES, tubeSize, WALL_GAUGES, wallGauge } from '../../src/catalogue/tubeSizes.ts'

const tables = { 'tube sizes': TUBE_SIZES, materials: MATERIALS, fittings: FITTING_KINDS }

describe.each(Object.entries(tables))('the table of %s', (_, rows) => {
  test('has ids that name one row each', () => {
    expect(new Set(rows.map(r => r.id)).size).toBe(rows.length)
  })
  test('says where every row is from', () => {
    expect(rows.filter(r => r.source.length < 10)).toEqual([])
  })
})

test('inch sizes are their exact millimetres', () => {
  expect(tubeSize('in-3_8-0.049')).toMatchObject({ od: 9.525, wall: 1.2446, name: '3/8 × 0.049 in' })
  expect(tubeSize('in-1_2-0.035')).toMatchObject({ od: 12.7, wall: 0.889 })
  expect(fittingKind('port-in-1_4')).toMatchObject({ tubeOd: 6.35, insertionDepth: 15.875 })
})

test('every tube has a bore, and every inch wall is a gauge', () => {
  for (const s of TUBE_SIZES) {
    expect(s.od - 2 * s.wall, s.id).toBeGreaterThan(0)
    if (s.system === 'in') expect(wallGauge(s.wall), s.id).not.toBeNull()
  }
})

// Birmingham wire gauge, inches, from a public copy of the table that does not name its own source.
test('the gauges are the published ones', () => {
  const published = [
    [11, 0.12],
    [12, 0.109],
    [13, 0.095],
    [14, 0.083],
    [16, 0.065],
    [18, 0.049],
    [20, 0.035],
    [22, 0.028],
  ] as const
  expect(WALL_GAUGES.length).toBe(published.length)
  for (const [gauge, inches] of published) expect(wallGauge(inches * 25.4)).toBe(gauge)
  expect(wallGauge(1.5)).toBeNull()
})

test('ports follow from their OD by the rule that each row states, and so are no maker’s', () => {
  for (const k of FITTING_KINDS) {
    const [deep, long] = k.system === 'mm' ? [13.6, 13.2] : [0.45 * 25.4, 0.55 * 25.4]
    expect(k.insertionDepth).toBeCloseTo(deep + 0.7 * k.tubeOd, 2)
    expect(k.straightNeeded).toBeCloseTo(long + 0.9 * k.tubeOd, 2)
    expect(k.source).toMatch(
      /^invented: insertion [\d.]+ (mm|in) \+ 0\.7 × OD, straight [\d.]+ (mm|in) \+ 0\.9 × OD$/,
    )
  }
})

// Trade formula for steel tube, kg/m = 0.0246615 (D − t) t at 7.85 g/cm³: 12 × 1.5 gives 0.388.
test('mass per metre is the trade formula at the density of steel', () => {
  const steel = { ...MATERIALS[0]!, density: 7.85 }
  expect(massPerMetre(12, 1.5, steel)).toBeCloseTo(0.0246615 * 10.5 * 1.5, 6)
})

// ASTM B88 type L nominal 1/2 in (OD 0.625, wall 0.040 in; sizes from memory) is 0.285 lb/ft, read, to 3 decimals.
test('copper tube weighs what the standard prints, within its rounding', () => {
  const lbPerFt = (massPerMetre(0.625 * 25.4, 0.04 * 25.4, materialOf('copper')!) / 0.45359237) * 0.3048
  expect(lbPerFt).toBeGreaterThan(0.2845)
  expect(lbPerFt).toBeLessThan(0.2855)
})

test('a name that the tables do not have is null, also a name every object has', () => {
  for (const name of ['nothing', '__proto__', 'constructor', 'toString']) {
    expect(tubeSize(name)).toBeNull()
    expect(materialOf(name)).toBeNull()
    expect(fittingKind(name)).toBeNull()
  }
})
