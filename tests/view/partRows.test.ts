import { describe, expect, test } from 'vitest'
import { branchesAbove, partRows, partTree } from '../../src/view/models/partRows.ts'

const PARTS = [
  { key: 'Skid/Frame/Leg', names: ['Skid', 'Frame', 'Leg'] },
  { key: 'Skid/Frame/Leg#2', names: ['Skid', 'Frame', 'Leg'] },
  { key: 'Skid/Pump', names: ['Skid', 'Pump'] },
  { key: 'Skid/Frame', names: ['Skid', 'Frame'] },
  { key: 'Loose', names: ['Loose'] },
]
const tree = partTree(PARTS)
const names = (expanded: readonly string[], filter = '') =>
  partRows(tree, new Set(expanded), filter).map(r => '  '.repeat(r.node.level - 1) + r.node.name)
const skid = tree[0]!.id
const frame = tree[0]!.children[0]!.id

describe('the tree of a model’s parts', () => {
  test('a part named like a branch is a row of its own, and every row has its own id', () => {
    expect(names([skid, frame])).toEqual([
      'Skid',
      '  Frame',
      '    Leg',
      '    Leg',
      '  Pump',
      '  Frame',
      'Loose',
    ])
    const ids = partRows(tree, new Set([skid, frame]), '').map(r => r.node.id)
    expect(new Set(ids).size).toBe(ids.length)
  })
  test('a branch knows the keys of all parts below it', () => {
    expect(tree[0]!.keys).toEqual(['Skid/Frame/Leg', 'Skid/Frame/Leg#2', 'Skid/Pump', 'Skid/Frame'])
    expect(tree[0]!.children[0]!.keys).toEqual(['Skid/Frame/Leg', 'Skid/Frame/Leg#2'])
  })
  test('what is below a closed branch is not shown', () => {
    expect(names([])).toEqual(['Skid', 'Loose'])
    expect(names([skid])).toEqual(['Skid', '  Frame', '  Pump', '  Frame', 'Loose'])
  })
  test('a filter shows what has the words in its name, in its branch', () => {
    expect(names([], 'pump')).toEqual(['Skid', '  Pump'])
    expect(names([], ' LEG ')).toEqual(['Skid', '  Frame', '    Leg', '    Leg'])
    expect(names([], 'xyz')).toEqual([])
  })
  test('a branch that has the words itself opens to all of its parts', () => {
    expect(names([frame], 'frame')).toEqual(['Skid', '  Frame', '    Leg', '    Leg', '  Frame'])
  })
  test('rows count their place among those shown', () => {
    const rows = partRows(tree, new Set([skid]), '')
    expect(rows.map(r => `${r.place}/${r.of}`)).toEqual(['1/2', '1/3', '2/3', '3/3', '2/2'])
  })
  test('the branches above a part are found', () => {
    expect(branchesAbove(tree, 'Skid/Frame/Leg#2')).toEqual([skid, frame])
    expect(branchesAbove(tree, 'Loose')).toEqual([])
    expect(branchesAbove(tree, 'nothing')).toEqual([])
  })
})
