/** Chromium without a window, a network of its own or a GPU: WebGL2 is drawn on the CPU. */
export const BROWSER_ARGS = [
  '--headless=new',
  '--no-sandbox',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
]
