/** Data as JSON for programs, with every digit. What a finding says stands in it once: its message, in mm. */
export const jsonText = (data: unknown): string =>
  `${JSON.stringify(data, (key, value) => (key === 'sentence' ? undefined : value), 2)}\n`
