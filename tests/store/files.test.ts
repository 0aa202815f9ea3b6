import { describe, expect, it } from 'vitest'
import { fileNameFor } from '../../src/store/files.ts'

describe('a file name made of a document name', () => {
  it.each([
    ['Blower to manifold', 'Blower-to-manifold.dogleg.json'],
    ['Austernzucht Süd', 'Austernzucht-Süd.dogleg.json'],
    ['../../etc/passwd', 'etc-passwd.dogleg.json'],
    ['C:\\skids\\a?*<b>|".json', 'C-skids-a-b-.json.dogleg.json'],
    ['…', 'skid.dogleg.json'],
    ['   ', 'skid.dogleg.json'],
    ['.hidden', 'hidden.dogleg.json'],
  ])('%s becomes %s', (name, file) => {
    expect(fileNameFor(name)).toBe(file)
  })

  it('is never longer than a file system takes', () => {
    expect(fileNameFor('x'.repeat(5000)).length).toBeLessThan(120)
  })
})
