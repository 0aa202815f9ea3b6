/**
 * Keeps the app's own files so that it opens without a network after the first visit. A new version waits until the
 * person says so: nobody's bench is swapped under their hands. The build fills in the two constants.
 */
declare const __DOGLEG_VERSION__: string
declare const __DOGLEG_FILES__: readonly string[]

const worker = globalThis as unknown as ServiceWorkerGlobalScope
const PREFIX = 'dogleg-'
const CACHE = `${PREFIX}${__DOGLEG_VERSION__}`

worker.addEventListener('install', event => {
  event.waitUntil(
    caches
      .open(CACHE)
      // Past the HTTP cache: a file of the old version must not be kept under the new one's name.
      .then(cache => cache.addAll(__DOGLEG_FILES__.map(file => new Request(file, { cache: 'reload' })))),
  )
})

worker.addEventListener('activate', event => {
  event.waitUntil(
    caches
      .keys()
      .then(names => names.filter(name => name.startsWith(PREFIX) && name !== CACHE))
      .then(old => Promise.all(old.map(name => caches.delete(name))))
      .then(() => worker.clients.claim()),
  )
})

worker.addEventListener('message', event => {
  if (event.data === 'takeOver') void worker.skipWaiting()
})

worker.addEventListener('fetch', event => {
  const { request } = event
  if (request.method !== 'GET' || new URL(request.url).origin !== worker.location.origin) return
  event.respondWith(answer(request))
})

async function answer(request: Request): Promise<Response> {
  const cache = await caches.open(CACHE)
  const kept =
    request.mode === 'navigate'
      ? await cache.match('./', { ignoreSearch: true })
      : await cache.match(request, { ignoreSearch: false })
  if (kept) return kept
  const fresh = await fetch(request)
  // The CAD kernels are too big to fetch for everyone; whoever used one has it offline too.
  if (fresh.ok && request.url.endsWith('.wasm')) await cache.put(request, fresh.clone())
  return fresh
}
