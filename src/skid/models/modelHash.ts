/** SHA-256 of the bytes as 64 lower-case hexadecimal digits, by the browser's or Node's own implementation. */
export async function modelHash(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes))
  return Array.from(digest, b => b.toString(16).padStart(2, '0')).join('')
}
