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
    caches.open(CACHE).then(cache => Promise.all(__DOGLEG_FILES__.map(file => keep(cache, file)))),
  )
})

/** @throws Error when the file is not to be had: this version is then not taken on at all. */
async function keep(cache: Cache, file: string): Promise<void> {
  // Past the HTTP cache: a file of the old version must not be kept under the new one's name.
  const answer = await fetch(new Request(file, { cache: 'reload' }))
  if (!answer.ok) throw new Error(`${file}: found ${answer.status}; wanted a file of the app`)
  await cache.put(file, plain(answer))
}

/**
 * The answer without what binds it to the request that it was for: a host's `Vary`, or a redirection on the way, would
 * keep it from answering others, and the app from opening offline.
 */
function plain(answer: Response): Response {
  const headers = new Headers(answer.headers)
  headers.delete('vary')
  return new Response(answer.body, { status: answer.status, statusText: answer.statusText, headers })
}

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

/** Every file of the app is one whatever is asked behind its name, and whoever asks. */
const ANY: CacheQueryOptions = { ignoreSearch: true, ignoreVary: true }

async function answer(request: Request): Promise<Response> {
  const cache = await caches.open(CACHE)
  const kept = await cache.match(request.mode === 'navigate' ? './' : request, ANY)
  if (kept) return kept
  const fresh = await fetch(request)
  // The CAD kernels are too big to fetch for everyone; whoever used one has it offline too.
  if (fresh.ok && request.url.endsWith('.wasm')) await cache.put(request, plain(fresh.clone()))
  return fresh
}
