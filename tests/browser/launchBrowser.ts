import { type Browser, type BrowserContext, chromium } from 'playwright-core'
import { findBrowser } from './findBrowser.ts'

const OPTIONS = {
  headless: false,
  args: [
    '--headless=new',
    '--no-sandbox',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
    '--use-angle=swiftshader',
    '--enable-unsafe-swiftshader',
    // Without a GPU only what WebGL draws has to go through its emulation: the page itself is painted three times as fast.
    '--disable-gpu-rasterization',
    '--disable-gpu-compositing',
  ],
  ignoreDefaultArgs: ['--enable-gpu-rasterization'],
}

/** A browser that draws without a GPU and asks nobody on the network for anything. */
export const launchBrowser = (): Promise<Browser> =>
  chromium.launch({ ...OPTIONS, executablePath: findBrowser() })

/** The same as a process of its own whose storage is in the folder `profile`, and stays there. */
export const launchWithProfile = (profile: string, args: readonly string[] = []): Promise<BrowserContext> =>
  chromium.launchPersistentContext(profile, {
    ...OPTIONS,
    args: [...OPTIONS.args, ...args],
    executablePath: findBrowser(),
    viewport: { width: 1280, height: 800 },
    acceptDownloads: true,
  })
