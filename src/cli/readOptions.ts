import { BadInput } from './badInput.ts'
import type { Given, Option, Options } from './command.ts'

export interface ReadArguments {
  readonly words: readonly string[]
  readonly values: Given
}

/**
 * The words of a command and its options. `--name value` and `--name=value` are the same; what follows `--` is words.
 * A value may begin with a hyphen (`-,1,-,-`), but not look like an option (`--run`): then it is given as `--name=value`.
 *
 * @throws BadInput for an option that the command does not take, one without its value, a switch with one, and one
 *   that is given twice and may not be.
 */
export function readOptions(args: readonly string[], options: Options, name: string): ReadArguments {
  const words: string[] = []
  const values: Record<string, string | true | string[]> = Object.create(null)
  for (let i = 0; i < args.length; i++) {
    const arg = args[i]!
    if (arg === '--') {
      words.push(...args.slice(i + 1))
      break
    }
    if (arg === '-' || !arg.startsWith('-')) {
      words.push(arg)
      continue
    }
    const [, option = arg, inline] = /^--([^=]+)(?:=([\s\S]*))?$/.exec(arg) ?? []
    const known = Object.hasOwn(options, option) ? options[option]! : undefined
    if (!known || option === arg) throw unknown(arg, options, name)
    if (known.takes === null) {
      if (inline !== undefined)
        throw new BadInput(`--${option}: found "${inline}"; wanted it without a value`)
      values[option] = true
      continue
    }
    const next = args[i + 1]
    if (inline === undefined && (next === undefined || /^--[a-z]/i.test(next)))
      throw withoutValue(option, known, next)
    const value = inline ?? next!
    if (inline === undefined) i++
    const before = values[option]
    if (known.many) values[option] = [...(Array.isArray(before) ? before : []), value]
    else if (before === undefined) values[option] = value
    else throw new BadInput(`--${option}: found it twice, "${before}" and "${value}"; wanted it once`)
  }
  return { words, values: { ...values } }
}

function unknown(arg: string, options: Options, name: string): BadInput {
  const taken = Object.keys(options).map(o => `--${o}`)
  const wanted = taken.length > 0 ? `one of ${taken.join(', ')}` : 'none: it has no options'
  return new BadInput(`${arg.replace(/=[\s\S]*/, '')}: ${name} does not take it; wanted ${wanted}`)
}

function withoutValue(option: string, { takes }: Option, next: string | undefined): BadInput {
  const found = next === undefined ? 'nothing' : `"${next}", an option`
  const such = next === undefined ? '' : ` (one that begins with -- as in --${option}=${next})`
  return new BadInput(`--${option}: found ${found}; wanted ${takes} after it${such}`)
}
