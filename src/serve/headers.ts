/** Nothing but the app's own files runs, and nothing leaves the machine. WebAssembly is the CAD kernels'. */
const DIRECTIVES = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self' blob: data:",
  "worker-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
]

/** As the page itself says it, for hosts that send no headers. What only a header can say is not in it. */
export const POLICY_IN_PAGE = DIRECTIVES.join('; ')

/** What a host sends with every file of the app but one ({@link headersOf}); README.md lists them for whoever hosts it elsewhere. */
export const HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy': `${POLICY_IN_PAGE}; frame-ancestors 'none'`,
  'X-Content-Type-Options': 'nosniff',
  'X-Frame-Options': 'DENY',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Permissions-Policy': 'camera=(), geolocation=(), microphone=(), payment=(), usb=()',
  // As most hosts send it. What the service worker keeps has to answer all the same.
  Vary: 'Origin',
}

/** The worker that reads models: its STEP reader makes functions out of text, which no other file of the app may do. */
const READS_MODELS = /^\/assets\/modelWorker-[^/]*\.js$/

/** The headers of one file of the app. A worker goes by the policy that its own file comes with. */
export const headersOf = (path: string): Readonly<Record<string, string>> =>
  READS_MODELS.test(path)
    ? {
        ...HEADERS,
        'Content-Security-Policy': HEADERS['Content-Security-Policy']!.replace(
          "'wasm-unsafe-eval'",
          "'wasm-unsafe-eval' 'unsafe-eval'",
        ),
      }
    : HEADERS

/** Files whose name changes with their content are kept by the browser; all others are asked for anew. */
export const cacheControlOf = (path: string): string =>
  path.startsWith('/assets/') ? 'public, max-age=31536000, immutable' : 'no-cache'
