import regular from '@expo-google-fonts/arimo/400Regular/Arimo_400Regular.ttf?deflated'
import bold from '@expo-google-fonts/arimo/700Bold/Arimo_700Bold.ttf?deflated'
import type { FontWeight } from './paperFont.ts'

const ADDRESSES: Record<FontWeight, string> = { regular, bold }

/** The paper's font as a file of the built app. @throws Error when the app is served without it. */
export async function fontFile(weight: FontWeight): Promise<Uint8Array> {
  const answer = await fetch(ADDRESSES[weight])
  if (!answer.ok || !answer.body) throw new Error(`${answer.status} for the ${weight} font`)
  const whole = answer.body.pipeThrough(new DecompressionStream('deflate'))
  return new Uint8Array(await new Response(whole).arrayBuffer())
}
