import { execFileSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { chromium } from 'playwright-core'

/** Where a Chromium-type browser usually is, by operating system. */
const KNOWN_PATHS = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/usr/bin/microsoft-edge',
  '/snap/bin/chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
]

/** Longest that one way of bringing a browser may take. Milliseconds. */
const INSTALL_MS = 240_000

/**
 * Path of a browser for the tests: DOGLEG_BROWSER, a known place, one that playwright-core brought before, one it
 * brings now, or the system's package where this user may install one.
 * @throws Error saying all that was tried.
 */
export function findBrowser(): string {
  const tried: string[] = []
  const { DOGLEG_BROWSER: wanted } = process.env
  if (wanted) {
    if (existsSync(wanted)) return wanted
    tried.push(`DOGLEG_BROWSER names ${wanted}, which is not there`)
  }
  const there = () => [...KNOWN_PATHS, chromium.executablePath()].find(path => path && existsSync(path))
  const known = there()
  if (known) return known
  tried.push('none of the usual places has one')

  for (const [what, program, args] of installers()) {
    console.log(`No browser found; trying ${what} …`)
    try {
      execFileSync(program, args, { stdio: ['ignore', 'ignore', 'pipe'], timeout: INSTALL_MS })
    } catch (error) {
      tried.push(`${what} failed: ${String((error as Error).message).split('\n')[0]}`)
      continue
    }
    const brought = there()
    if (brought) return brought
    tried.push(`${what} brought none`)
  }
  throw new Error(
    `The browser tests need Chromium, Chrome or Edge and found none:\n- ${tried.join('\n- ')}\n` +
      'Install one, or set DOGLEG_BROWSER to its path.',
  )
}

function installers(): [what: string, program: string, args: string[]][] {
  const cli = new URL('../../node_modules/playwright-core/cli.js', import.meta.url).pathname
  const list: [string, string, string[]][] = [
    ['playwright-core’s download', process.execPath, [cli, 'install', 'chromium', '--no-shell']],
  ]
  if (process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
    list.push(['the package list’s update', 'apt-get', ['update', '-q']])
    list.push([
      'the system’s package',
      'apt-get',
      ['install', '-y', '-q', '--no-install-recommends', 'chromium'],
    ])
  }
  return list
}
