import type { Where } from '../findings/finding.ts'

/** Which place of its run a finding is about, in words, counted from 1: "bend 2"; '' when the run as a whole or a pair. */
export function placeWord({ kind, index }: Where): string {
  const number = index === null ? '' : ` ${index + 1}`
  const words: Record<Where['kind'], string> = {
    run: '',
    straight: `straight${number}`,
    bend: `bend${number}`,
    vertex: `point${number}`,
    leg: `leg${number}`,
    endA: 'end A',
    endB: 'end B',
    pair: '',
    motion: `making bend${number}`,
    support: 'support',
  }
  return words[kind]
}
