import { expect, test } from 'vitest'
import { changeRuns } from '../../src/document/bulkEdits.ts'
import { sharedNow, wishedChange } from '../../src/view/panels/wishedChange.ts'
import { manyRuns } from '../manyRuns.ts'

test('only what is wished for is in the change; the rest stays each one’s own', () => {
  expect(wishedChange({}, 'mm')).toEqual({ change: {}, faults: [] })
  expect(wishedChange({ insulation: '20+5' }, 'mm').change).toEqual({ insulation: 25 })
  expect(wishedChange({ service: '' }, 'mm').change).toEqual({ service: '' })
  expect(wishedChange({ bender: '' }, 'mm').change).toEqual({ bender: null })
})

test('many runs get one insulation cut back, and it is refused below 0', () => {
  const { change } = wishedChange({ insulationCutBack: '45' }, 'mm')
  const skid = manyRuns(3)
  const ids = new Set(skid.runs.map(r => r.id))
  const after = changeRuns(skid, ids, change)
  expect('runs' in after && after.runs.map(r => r.insulationCutBack)).toEqual([45, 45, 45])
  expect(changeRuns(skid, ids, { insulationCutBack: -1 })).toMatchObject({
    refused: ['Insulation cut back is -1 mm; it must be 0 or more.'],
  })
})

test('lengths are read in the unit that is shown and stored in mm', () => {
  expect(wishedChange({ clr: '1.5' }, 'in').change.clr).toBeCloseTo(38.1, 9)
  expect(wishedChange({ clr: '1 in' }, 'mm').change.clr).toBeCloseTo(25.4, 9)
})

test('a size of the table has its figures, an own one those that are typed', () => {
  expect(wishedChange({ size: 'mm-12-1.5', od: '99' }, 'mm').change).toEqual({
    size: { catalogueId: 'mm-12-1.5', od: 12, wall: 1.5 },
  })
  expect(wishedChange({ size: '', od: '14', wall: '2' }, 'mm').change).toEqual({
    size: { catalogueId: null, od: 14, wall: 2 },
  })
})

test('what cannot be read is named and not in the change', () => {
  const { change, faults } = wishedChange({ size: '', od: 'wide', clr: '', quantity: '1.5' }, 'mm')
  expect(change).toEqual({})
  expect(faults).toHaveLength(4)
  for (const [i, name] of ['OD', 'Wall', 'CLR', 'Quantity'].entries())
    expect(
      faults.some(f => f.startsWith(`${name}: `)),
      `${i} ${name}: ${faults.join(' ')}`,
    ).toBe(true)
})

test('a figure that can be read and cannot be is refused with its name', () => {
  const document = manyRuns(3)
  const { change, faults } = wishedChange({ insulation: '-1' }, 'mm')
  expect(faults).toEqual([])
  expect(changeRuns(document, new Set(['run1']), change)).toEqual({
    refused: ['Insulation is -1 mm; it must be 0 or more.'],
  })
})

test('what the runs have now is the one thing, or how many', () => {
  const { runs } = manyRuns(12)
  expect(sharedNow(runs, r => r.tube.material)).toBe('316')
  expect(sharedNow(runs, r => r.tag)).toBe('12 different')
  expect(sharedNow(runs, () => '')).toBe('none')
})
