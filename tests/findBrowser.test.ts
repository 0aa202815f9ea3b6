import { describe, expect, it } from 'vitest'
import { findBrowser, type Machine } from './browser/findBrowser.ts'

const KNOWN = ['/usr/bin/one', '/usr/bin/two']
const DOWNLOADED = '/home/u/.cache/browser'
const APT = '/usr/bin/apt-get'

/** A machine with these files, on which each program does what `brings` says for it: gives a file, or throws. */
function machine(
  files: readonly string[],
  more: Partial<Machine> & {
    readonly brings?: (program: string, args: readonly string[]) => string | null
  } = {},
) {
  const there = new Set(files)
  const ran: string[] = []
  const made: Machine = {
    wanted: undefined,
    knownPaths: KNOWN,
    downloaded: DOWNLOADED,
    isRoot: false,
    exists: path => there.has(path),
    run(program, args) {
      ran.push(program === 'apt-get' ? `apt-get ${args[0]}` : `download ${args.slice(1).join(' ')}`)
      const file = more.brings?.(program, args)
      if (file) there.add(file)
    },
    say: () => {},
    ...more,
  }
  return { made, ran }
}
const no = (reason: string) => () => {
  throw new Error(reason)
}

describe('the browser for the tests is', () => {
  it('the one that DOGLEG_BROWSER names, before all others', () => {
    const { made, ran } = machine([...KNOWN, '/opt/mine'], { wanted: '/opt/mine' })
    expect(findBrowser(made)).toBe('/opt/mine')
    expect(ran).toEqual([])
  })
  it('a known one where DOGLEG_BROWSER names none that is there', () => {
    expect(findBrowser(machine(['/usr/bin/two'], { wanted: '/opt/gone' }).made)).toBe('/usr/bin/two')
  })
  it('the first known one, before a downloaded one', () => {
    expect(findBrowser(machine([DOWNLOADED, '/usr/bin/two', '/usr/bin/one']).made)).toBe('/usr/bin/one')
  })
  it('one downloaded before, without downloading again', () => {
    const { made, ran } = machine([DOWNLOADED, APT], { isRoot: true })
    expect(findBrowser(made)).toBe(DOWNLOADED)
    expect(ran).toEqual([])
  })
  it('downloaded now where there is none, before any package is installed', () => {
    const { made, ran } = machine([APT], { isRoot: true, brings: () => DOWNLOADED })
    expect(findBrowser(made)).toBe(DOWNLOADED)
    expect(ran).toEqual(['download install chromium --no-shell'])
  })
  it('the package where the download fails and the user is root, though the list’s update failed', () => {
    const { made, ran } = machine([APT], {
      isRoot: true,
      brings: (program, args) =>
        program === 'apt-get' && args[0] === 'install' ? '/usr/bin/two' : no('offline')(),
    })
    expect(findBrowser(made)).toBe('/usr/bin/two')
    expect(ran).toEqual(['download install chromium --no-shell', 'apt-get update', 'apt-get install'])
  })
})

describe('where no browser can be had', () => {
  const messageOf = (made: Machine) => {
    try {
      return findBrowser(made)
    } catch (error) {
      return (error as Error).message
    }
  }

  it('one message names all that was tried, in order, each with its reason', () => {
    const { made } = machine([APT], {
      isRoot: true,
      wanted: '/opt/gone',
      brings: program =>
        no(program === 'apt-get' ? 'Command failed: apt-get\nW: old\nE: no such package\n' : 'offline')(),
    })
    expect(messageOf(made)).toBe(
      [
        'The browser tests need Chromium, Chrome or Edge and found none:',
        '- DOGLEG_BROWSER names /opt/gone, which is not there',
        '- none of the usual places has one',
        '- playwright-core’s download failed: offline',
        '- the package list’s update failed: Command failed: apt-get … E: no such package',
        '- the system’s package failed: Command failed: apt-get … E: no such package',
        'Install one, or set DOGLEG_BROWSER to its path.',
      ].join('\n'),
    )
  })
  it('a way that ended well and brought nothing is told too', () => {
    const { made } = machine([APT], { isRoot: true })
    expect(messageOf(made)).toMatch(/download brought none\n- the system’s package brought none\n/)
  })
  it.each([
    ['who is not root', { isRoot: false }, [APT]],
    ['whose system has no apt-get', { isRoot: true }, []],
  ])('no package is tried for a user %s', (_, more, files) => {
    const { made, ran } = machine(files, { ...more, brings: no('offline') })
    expect(messageOf(made)).toMatch(/found none/)
    expect(ran).toEqual(['download install chromium --no-shell'])
  })
  it('what is thrown without words is told all the same', () => {
    const { made } = machine([], { brings: no('') })
    expect(messageOf(made)).toContain('download failed: no reason given')
  })
})
