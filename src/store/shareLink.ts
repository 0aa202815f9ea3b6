import { readDocument } from '../document/readDocument.ts'
import type { SkidDocument } from '../document/types.ts'
import { writeDocument } from '../document/writeDocument.ts'

/** Links longer than this are cut by mail programs and chat tools; a file is offered instead. Characters. */
export const LONGEST_LINK = 16_000
/** What a link may unpack to: a small link must not fill the memory. Bytes. */
const LARGEST_TEXT = 50 * 1024 * 1024
const KEY = 'skid='

export type LinkAnswer =
  | { readonly ok: true; readonly link: string }
  | { readonly ok: false; readonly length: number }

/** A link whose fragment holds the whole document, deflated; fragments are never sent to a server. */
export async function linkTo(document: SkidDocument, page: string): Promise<LinkAnswer> {
  const text = new Blob([writeDocument(document)]).stream()
  const packed = await new Response(text.pipeThrough(new CompressionStream('deflate-raw'))).bytes()
  const link = `${page.split('#')[0]}#${KEY}${toBase64Url(packed)}`
  return link.length <= LONGEST_LINK ? { ok: true, link } : { ok: false, length: link.length }
}

export type SharedAnswer =
  | { readonly kind: 'none' }
  | { readonly kind: 'document'; readonly document: SkidDocument }
  | { readonly kind: 'damaged'; readonly reason: string }

/** The document in a link's fragment; 'damaged' with the reason when it cannot be read, never half of one. */
export async function documentIn(fragment: string): Promise<SharedAnswer> {
  const payload = fragment.replace(/^#/, '')
  if (!payload.startsWith(KEY)) return { kind: 'none' }
  let text: string
  try {
    text = await unpack(fromBase64Url(payload.slice(KEY.length)))
  } catch (error) {
    const reason =
      error instanceof RangeError ? error.message : 'the link is cut off or was changed on its way'
    return { kind: 'damaged', reason }
  }
  const read = readDocument(text)
  return read.ok
    ? { kind: 'document', document: read.document }
    : { kind: 'damaged', reason: read.errors.map(e => e.message).join(' ') }
}

async function unpack(packed: Uint8Array<ArrayBuffer>): Promise<string> {
  const reader = new Blob([packed]).stream().pipeThrough(new DecompressionStream('deflate-raw')).getReader()
  const parts: Uint8Array<ArrayBuffer>[] = []
  let size = 0
  for (;;) {
    const { done, value } = await reader.read()
    if (done) break
    size += value.byteLength
    if (size > LARGEST_TEXT) {
      await reader.cancel()
      throw new RangeError(`the link unpacks to more than ${LARGEST_TEXT / 1048576} MB`)
    }
    parts.push(value)
  }
  return new TextDecoder('utf-8', { fatal: true }).decode(await new Blob(parts).arrayBuffer())
}

function toBase64Url(bytes: Uint8Array): string {
  let binary = ''
  for (const byte of bytes) binary += String.fromCharCode(byte)
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '')
}

function fromBase64Url(text: string): Uint8Array<ArrayBuffer> {
  const binary = atob(text.replaceAll('-', '+').replaceAll('_', '/'))
  return Uint8Array.from(binary, c => c.charCodeAt(0))
}
