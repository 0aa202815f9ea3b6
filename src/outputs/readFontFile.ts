import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import type { FontWeight } from './paperFont.ts'

const FILES: Record<FontWeight, string> = {
  regular: '@expo-google-fonts/arimo/400Regular/Arimo_400Regular.ttf',
  bold: '@expo-google-fonts/arimo/700Bold/Arimo_700Bold.ttf',
}

/** The paper's font as a file in Node. @throws Error when its package is not installed. */
export const fontFile = async (weight: FontWeight): Promise<Uint8Array> =>
  new Uint8Array(await readFile(createRequire(import.meta.url).resolve(FILES[weight])))
