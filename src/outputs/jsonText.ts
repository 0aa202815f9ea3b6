/** What is there to be written in any unit; its text in mm stands beside it. */
const LEFT_OUT: ReadonlySet<string> = new Set(['sentence', 'sentences'])

/** Data as JSON for programs, with every digit. What a finding says stands in it once: its message, in mm. */
export const jsonText = (data: unknown): string =>
  `${JSON.stringify(data, (key, value) => (LEFT_OUT.has(key) ? undefined : value), 2)}\n`
