import { fileOpen } from 'browser-fs-access'
import type { Model } from '../../document/types.ts'
import { ENDINGS } from '../../skid/models/readModel.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { giveModelFile } from '../../store/takeModelFile.ts'
import { showDialog } from '../shell/dialogStore.ts'

const say = (message: string) => sessionStore.getState().say(message)

/** Asks for a model file; null when the person thought better of it. @throws what the browser throws. */
export async function pickModelFile(): Promise<File | null> {
  try {
    return await fileOpen({
      description: 'Model',
      extensions: Object.values(ENDINGS).flat(),
      id: 'dogleg-models',
    })
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') return null
    throw error
  }
}

/** Asks for the file of a model whose own is missing; another one is refused, and offered as another version. */
export async function giveFile(model: Model): Promise<void> {
  let file: File | null
  try {
    file = await pickModelFile()
  } catch (error) {
    return say(`The file could not be reached: ${error instanceof Error ? error.message : String(error)}`)
  }
  if (!file) return
  say(`Comparing “${file.name}”…`)
  const given = await giveModelFile(model, file)
  if (given.kind === 'unreadable') say(`“${file.name}” cannot be read: ${given.reason}`)
  else if (given.kind === 'other') {
    say(`“${file.name}” is not the file of ${model.name}.`)
    showDialog({ kind: 'otherModelFile', model: model.id, file })
  } else say(`${model.name}: the file is found${given.notKept ? `, but ${given.notKept}` : ''}.`)
}
