const isMac = () => typeof navigator !== 'undefined' && /Mac|iPhone|iPad/.test(navigator.userAgent)

/** The keys of a command as this machine's keyboard names them. */
export const keyText = (keys: string): string =>
  (isMac() ? keys.replace('Mod', '⌘').replace('Alt', '⌥') : keys.replace('Mod', 'Ctrl')).replace(
    ' ',
    ', then ',
  )
