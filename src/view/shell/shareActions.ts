import { documentStore } from '../../store/documentStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { documentIn, LONGEST_LINK, linkTo } from '../../store/shareLink.ts'
import { showDialog } from './dialogStore.ts'
import { openShared, save } from './documentActions.ts'

const say = (message: string) => sessionStore.getState().say(message)

/** Puts a link that holds the whole skid on the clipboard; offers a file when it would be too long. */
export async function copyLink(): Promise<void> {
  const made = await linkTo(documentStore.getState().settled, location.href)
  if (!made.ok) {
    say(
      `A link to this skid would have ${made.length} characters, more than the limit of ${LONGEST_LINK}. It is saved as a file instead.`,
    )
    save('elsewhere')
    return
  }
  try {
    await navigator.clipboard.writeText(made.link)
    say('A link with this skid is on the clipboard. Nothing was sent anywhere.')
  } catch {
    // Without the right to write to the clipboard the address bar holds the link just as well.
    history.replaceState(null, '', made.link)
    say('The link with this skid is in the address bar: copy it from there.')
  }
}

/** Opens the skid that the address holds, as a document of its own; what was open before stays kept. */
export async function openFromAddress(): Promise<boolean> {
  const found = await documentIn(location.hash)
  if (found.kind === 'none') return false
  history.replaceState(null, '', location.pathname + location.search)
  if (found.kind === 'damaged') {
    const fault = { path: '', found: 'a damaged link', wanted: 'a whole link', message: found.reason }
    showDialog({ kind: 'refused', name: 'The link', text: null, faults: [fault] })
    return false
  }
  openShared(found.document)
  return true
}

/** The run of a printed sheet whose code the address holds: its bending view opens, once a document is there. */
export async function openSheetFromAddress(): Promise<void> {
  const code = /^#sheet=([^&]{0,40})/.exec(location.hash)?.[1]
  if (code === undefined) return
  history.replaceState(null, '', location.pathname + location.search)
  const { openSheet } = await import('../bending/openSheet.ts')
  await openSheet(code)
}
