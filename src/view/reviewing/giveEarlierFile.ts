import type { Model } from '../../document/types.ts'
import { checkEarlier } from '../../store/comparing.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { giveModelFile } from '../../store/takeModelFile.ts'
import { pickModelFile } from '../models/modelActions.ts'

/** Asks for the file of a model of the earlier version; only the very one will do. Then the version is checked anew. */
export async function giveEarlierFile(model: Model): Promise<void> {
  const { say } = sessionStore.getState()
  try {
    const file = await pickModelFile()
    if (!file) return
    const given = await giveModelFile(model, file)
    if (given.kind === 'unreadable') return say(`“${file.name}” cannot be read: ${given.reason}`)
    if (given.kind === 'other')
      return say(`“${file.name}” is not the file that the earlier version has for ${model.name}.`)
    say(`${model.name}: the file is there, and the earlier version is checked again.`)
    checkEarlier()
  } catch (error) {
    say(`The file could not be reached: ${error instanceof Error ? error.message : String(error)}`)
  }
}
