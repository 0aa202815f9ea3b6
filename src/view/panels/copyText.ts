import { sessionStore } from '../../store/sessionStore.ts'

/** Puts text on the clipboard and says so, or says that the browser did not allow it. */
export function copyText(text: string, done: string): void {
  const { say } = sessionStore.getState()
  navigator.clipboard.writeText(text).then(
    () => say(done),
    () => say('The browser did not allow copying. Select the rows and press Ctrl+C instead.'),
  )
}
