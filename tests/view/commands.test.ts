import { describe, expect, it } from 'vitest'
import { COMMANDS } from '../../src/view/shell/commands.ts'
import { matches } from '../../src/view/shell/startShell.ts'

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
    ['Shift+2 where it makes a quote', press('"', 'Digit2', ['Shift']), 'View from the top'],
    ['F', press('f', 'KeyF'), 'Everything in view'],
    ['?', press('?', 'Slash', ['Shift']), 'This sheet'],
    ['Shift+F6', press('F6', 'F6', ['Shift']), 'Previous panel'],
  ])('%s does one thing: %s', (_, event, label) => {
    expect(found(event)).toEqual([label])
  })

  it('leave plain typing alone', () => {
    for (const key of ['a', '1', '2', '-', ' ']) expect(found(press(key, key)), key).toEqual([])
    expect(found(press('f', 'KeyF', ['Ctrl']))).toEqual([])
  })
})
