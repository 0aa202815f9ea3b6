import { KNOWN_BENDERS } from '../../document/knownBenders.ts'
import { emptyDocument } from '../../document/newDocument.ts'
import type { SkidDocument } from '../../document/types.ts'
import { openCopy, wouldLose } from '../../store/autosave.ts'
import type { Copy } from '../../store/copies.ts'
import { documentStore } from '../../store/documentStore.ts'
import {
  type FileAnswer,
  forgetFile,
  type Opening,
  openFile,
  openGivenFile,
  openWithoutFile,
  type SavePlace,
  saveFile,
  textOf,
} from '../../store/files.ts'
import { loadSample, SAMPLES } from '../../store/samples.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { showDialog } from './dialogStore.ts'
import { openingIsOver, tellOpening } from './tellOpening.ts'

const say = (message: string) => sessionStore.getState().say(message)

/** After another document took the place of the last one: nothing of the old selection, all in view. */
export function lookAtAll(): void {
  const { runs } = documentStore.getState().document
  sessionStore.setState({
    selection: null,
    hover: null,
    hoverWith: null,
    gap: null,
    hiddenBodies: new Set(),
    tool: 'pick',
  })
  sessionStore.getState().hide({ hand: new Set(), isolation: null })
  sessionStore.getState().set({ runInHand: runs[0]?.id ?? null })
  sessionStore.getState().look({ kind: 'fit' })
}

/** Does `next` at once, or after asking when the open document is kept nowhere. */
export function unlessLost(next: () => void): void {
  if (wouldLose(documentStore.getState().settled)) showDialog({ kind: 'wouldLose', next })
  else next()
}

const kept = () => {
  const { past, settled, savedToFile } = documentStore.getState()
  return past.length > 0 && savedToFile !== settled ? ` “${settled.name}” is saved under Files.` : ''
}

export const newDocument = (): void =>
  unlessLost(() => {
    const before = kept()
    // With the benders of the reference table to choose from: without one most checks cannot be made.
    openWithoutFile({ ...emptyDocument('Untitled skid'), benders: KNOWN_BENDERS.map(known => known.bender) })
    lookAtAll()
    say(`New skid.${before}`)
  })

export const openSample = (key: string): Promise<void> =>
  loadSample(key).then(
    document =>
      unlessLost(() => {
        const before = kept()
        openWithoutFile(document)
        lookAtAll()
        say(`Sample “${document.name}” is open.${before}`)
      }),
    (error: unknown) => say(`The sample could not be opened: ${(error as Error).message}`),
  )

function tell(answer: FileAnswer, done: string): void {
  if (answer.kind === 'refused') showDialog({ ...answer, text: answer.text ?? null })
  else if (answer.kind === 'notSaved') showDialog({ kind: 'notSaved', name: answer.name, why: answer.reason })
  else if (answer.kind === 'changedOnDisk')
    showDialog({ kind: 'notSaved', name: answer.name, why: { changedAt: answer.at } })
  else if (answer.kind === 'done')
    say([`${done} “${answer.name}”.`, answer.converted].filter(Boolean).join(' '))
}

export const openFromFile = (): void =>
  unlessLost(() => {
    void openFile(OPENING).then(afterOpening)
  })

/** A file dropped on the window: a table is shown before it becomes anything, a skid is opened. */
export const openDropped = (file: File): void => {
  if (/\.(csv|tsv|txt)$/i.test(file.name)) void showTable(file)
  else
    unlessLost(() => {
      void openGivenFile(file, null, OPENING).then(afterOpening)
    })
}

async function showTable(file: File): Promise<void> {
  const text = await textOf(file)
  if (typeof text === 'string') showDialog({ kind: 'importTable', source: { name: file.name, text } })
  else tell(text, '')
}

const OPENING: Opening = { goOn: tellOpening, opened: lookAtAll }

function afterOpening(answer: FileAnswer): void {
  // Called off, or another file took its place, whose word it may be by now.
  if (answer.kind !== 'cancelled') openingIsOver()
  tell(answer, 'Opened')
}

export const save = (place: SavePlace = 'own'): void => {
  void saveFile(place).then(answer => tell(answer, 'Saved to'))
}

/** @param then done once the copy is open and in view. */
export const openKept = (copy: Copy, then?: () => void): void =>
  unlessLost(() => {
    forgetFile()
    void openCopy(copy).then(good => {
      if (!good) return say(`The saved copy of “${copy.name}” is damaged and was not opened.`)
      lookAtAll()
      say(`Opened “${copy.name}” as saved in this browser.`)
      then?.()
    })
  })

/** The sound part of a damaged file, as a skid of its own that is in no file yet. */
export const openSoundPart = (document: SkidDocument, fileName: string): void =>
  unlessLost(() => {
    openWithoutFile(document)
    lookAtAll()
    say(
      `The sound part of “${fileName}” is open as a new skid, not saved to a file yet. The damaged file is unchanged.`,
    )
  })

/** A skid that came in a link: asks first when the open one is kept nowhere. */
export const openShared = (document: SkidDocument): void =>
  unlessLost(() => {
    openWithoutFile(document)
    lookAtAll()
    say(`“${document.name}” is open, from a link. It is your own copy.`)
  })

/** The first thing on screen of a page: what was kept last, else the first sample. */
export async function openAtStart(
  openLast: () => Promise<boolean>,
  wantedSample: string | null,
): Promise<void> {
  if (wantedSample !== null) return openSample(wantedSample)
  if (!(await openLast())) return openSample(SAMPLES[0]?.key ?? '')
  lookAtAll()
  say(
    `Opened “${documentStore.getState().settled.name}” as saved in this browser. Undo starts here: earlier steps are not kept.`,
  )
}
