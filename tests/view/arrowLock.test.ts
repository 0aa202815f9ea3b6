import { describe, expect, test } from 'vitest'
import { LOOKS, type Rig } from '../../src/view/scene/cameraRig.ts'
import { arrowLock } from '../../src/view/scene/gestures/arrowLock.ts'

const rig = (look: keyof typeof LOOKS): Rig => ({
  target: [0, 0, 0],
  span: 1000,
  projection: 'perspective',
  ...LOOKS[look],
})

describe('arrow keys lock a drag', () => {
  test.each(Object.keys(LOOKS) as (keyof typeof LOOKS)[])(
    'to each of the three axes and to none, seen from %s',
    look => {
      const first = arrowLock('ArrowRight', null, rig(look))
      const other = arrowLock('ArrowRight', first ?? null, rig(look))
      expect([first, other].sort()).toEqual(['x', 'y'])
      expect(arrowLock('ArrowRight', other ?? null, rig(look))).toBeNull()
      expect(arrowLock('ArrowUp', first ?? null, rig(look))).toBe('z')
      expect(arrowLock('ArrowDown', 'z', rig(look))).toBeNull()
    },
  )
  test('first to the one that runs across the picture', () => {
    expect(arrowLock('ArrowLeft', null, rig('front'))).toBe('x')
    expect(arrowLock('ArrowLeft', null, rig('right'))).toBe('y')
  })
  test('and leave other keys alone', () => {
    for (const key of ['x', 'Tab', 'Enter', '1', 'PageUp'])
      expect(arrowLock(key, null, rig('iso'))).toBeUndefined()
  })
})
