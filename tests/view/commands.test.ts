import { describe, expect, it } from 'vitest'
import { COMMANDS } from '../../src/view/shell/commands.ts'
import { beginsWith, matches, second } from '../../src/view/shell/startShell.ts'

/** A key as a browser reports it on a US keyboard. */
function press(key: string, code: string, held: readonly string[] = []): KeyboardEvent {
  return {
    key,
    code,
    ctrlKey: held.includes('Ctrl'),
    metaKey: held.includes('Meta'),
    altKey: held.includes('Alt'),
    shiftKey: held.includes('Shift'),
  } as KeyboardEvent
}
const found = (event: KeyboardEvent) => COMMANDS.filter(c => matches(c, event)).map(c => c.label)

describe('the shortcuts', () => {
  it('have no two commands on the same keys', () => {
    const keys = COMMANDS.map(c => c.keys)
    expect(new Set(keys).size).toBe(keys.length)
  })

  it.each([
    ['Ctrl+Z', press('z', 'KeyZ', ['Ctrl']), 'Undo'],
    ['⌘Z', press('z', 'KeyZ', ['Meta']), 'Undo'],
    ['Ctrl+Shift+Z', press('Z', 'KeyZ', ['Ctrl', 'Shift']), 'Redo'],
    ['Alt+N where Alt makes another character', press('ñ', 'KeyN', ['Alt']), 'New skid'],
    ['P', press('p', 'KeyP'), 'Place points, or pick and drag'],
    ['?', press('?', 'Slash', ['Shift']), 'This sheet'],
    ['Shift+F6', press('F6', 'F6', ['Shift']), 'Previous panel'],
  ])('%s does one thing: %s', (_, event, label) => {
    expect(found(event)).toEqual([label])
  })

  it.each([
    ['t', 'View from the top'],
    ['T', 'View from the top'],
    ['a', 'Everything in view'],
    ['u', 'View from under'],
    ['v', 'Saved views'],
  ])('V, then %s: %s', (key, label) => {
    const waiting = beginsWith(press('v', 'KeyV'))
    expect(second(waiting, press(key, ''))?.label).toBe(label)
    expect(found(press('v', 'KeyV'))).toEqual([])
  })

  it('take V alone for no command, and no second letter with a control key held', () => {
    const waiting = beginsWith(press('v', 'KeyV'))
    expect(waiting.length).toBeGreaterThan(8)
    expect(second(waiting, press('t', 'KeyT', ['Ctrl']))).toBeUndefined()
    expect(second(waiting, press('x', 'KeyX'))).toBeUndefined()
    expect(beginsWith(press('v', 'KeyV', ['Ctrl']))).toEqual([])
    expect(beginsWith(press('t', 'KeyT'))).toEqual([])
  })

  it('leave plain typing alone', () => {
    for (const key of ['a', '1', '2', '-', ' ']) expect(found(press(key, key)), key).toEqual([])
    expect(found(press('f', 'KeyF', ['Ctrl']))).toEqual([])
  })
})
