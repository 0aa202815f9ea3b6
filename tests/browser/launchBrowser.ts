import { type Browser, chromium } from 'playwright-core'
import { findBrowser } from './findBrowser.ts'

/** A browser that draws without a GPU and asks nobody on the network for anything. */
export const launchBrowser = (): Promise<Browser> =>
  chromium.launch({
    executablePath: findBrowser(),
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
    ],
  })
