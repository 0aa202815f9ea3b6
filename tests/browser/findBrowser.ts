import { execFileSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
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

/** What the search asks of the machine; a test answers in its place. */
export interface Machine {
  /** What DOGLEG_BROWSER says. */
  readonly wanted: string | undefined
  /** In order of preference. */
  readonly knownPaths: readonly string[]
  /** Where playwright-core keeps the browser that it downloads. */
  readonly downloaded: string
  readonly isRoot: boolean
  exists(path: string): boolean
  /** @throws Error when the program cannot be started, fails, or takes too long. */
  run(program: string, args: readonly string[]): void
  say(message: string): void
}

const thisMachine = (): Machine => ({
  wanted: process.env['DOGLEG_BROWSER'],
  knownPaths: KNOWN_PATHS,
  downloaded: chromium.executablePath(),
  isRoot: process.getuid?.() === 0,
  exists: existsSync,
  run: (program, args) =>
    void execFileSync(program, args, { stdio: ['ignore', 'ignore', 'pipe'], timeout: INSTALL_MS }),
  say: message => console.log(message),
})

/**
 * Path of a browser for the tests: DOGLEG_BROWSER, a known place, one that playwright-core brought before, one it
 * brings now, or the system's package where this user may install one.
 * @throws Error saying all that was tried.
 */
export function findBrowser(machine: Machine = thisMachine()): string {
  const tried: string[] = []
  const { wanted, knownPaths, downloaded, exists } = machine
  if (wanted) {
    if (exists(wanted)) return wanted
    tried.push(`DOGLEG_BROWSER names ${wanted}, which is not there`)
  }
  const there = () => [...knownPaths, downloaded].find(path => path && exists(path))
  const known = there()
  if (known) return known
  tried.push('none of the usual places has one')

  for (const { what, program, args, brings } of installers(machine)) {
    machine.say(`No browser found; trying ${what} …`)
    try {
      machine.run(program, args)
    } catch (error) {
      tried.push(`${what} failed: ${reasonOf(error)}`)
      continue
    }
    const brought = there()
    if (brought) return brought
    if (brings) tried.push(`${what} brought none`)
  }
  throw new Error(
    `The browser tests need Chromium, Chrome or Edge and found none:\n- ${tried.join('\n- ')}\n` +
      'Install one, or set DOGLEG_BROWSER to its path.',
  )
}

/** A program's failure begins with its command and ends with its own last words. */
function reasonOf(error: unknown): string {
  const lines = (error instanceof Error ? error.message : String(error)).split('\n').filter(l => l.trim())
  return [...new Set([lines[0] ?? 'no reason given', lines.at(-1) ?? ''])].filter(Boolean).join(' … ')
}

interface Installer {
  readonly what: string
  readonly program: string
  readonly args: readonly string[]
  /** False for a step that only prepares the next one. */
  readonly brings: boolean
}

function installers({ isRoot, exists }: Machine): Installer[] {
  const cli = fileURLToPath(new URL('../../node_modules/playwright-core/cli.js', import.meta.url))
  const download = ['install', 'chromium', '--no-shell']
  const install = ['install', '-y', '-q', '--no-install-recommends', 'chromium']
  return [
    { what: 'playwright-core’s download', program: process.execPath, args: [cli, ...download], brings: true },
    ...(isRoot && exists('/usr/bin/apt-get')
      ? [
          { what: 'the package list’s update', program: 'apt-get', args: ['update', '-q'], brings: false },
          { what: 'the system’s package', program: 'apt-get', args: install, brings: true },
        ]
      : []),
  ]
}
