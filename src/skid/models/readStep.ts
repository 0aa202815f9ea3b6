import { gatherParts, leftOutNotes, type ModelNode } from './gatherParts.ts'
import { ModelError } from './modelError.ts'
import type { ReadModel } from './modelTypes.ts'
import type { ReadOptions, Tell } from './readOptions.ts'

/** Triangles stay within this of a curved face, mm: measured on spheres and rings, see the tests. */
const WITHIN = 0.1
/** What the kernel is asked for, mm: on faces curved both ways it overshoots twofold. */
const ASKED = 0.04
/** Neighbouring triangles on a curved face turn by no more than this, radians. */
const STEP_TURN = 0.5

interface KernelNode {
  readonly name: string
  readonly meshes: readonly number[]
  readonly children: readonly KernelNode[]
}
interface KernelAnswer {
  readonly success: boolean
  readonly root?: KernelNode
  readonly meshes?: readonly {
    readonly name: string
    readonly attributes: { readonly position: { readonly array: readonly number[] } }
    readonly index: { readonly array: readonly number[] }
  }[]
}
interface Kernel {
  readonly ReadStepFile: (content: Uint8Array, params: Readonly<Record<string, unknown>>) => KernelAnswer
}

/**
 * Reads a STEP file (ISO 10303-21) with the CAD kernel, which brings every unit to millimetres and turns curved faces
 * into triangles. STEP has no axis that points up.
 *
 * @throws ModelError see `readModel`.
 */
export async function readStep(
  bytes: Uint8Array<ArrayBuffer>,
  tell: Tell,
  stepKernel: ReadOptions['stepKernel'],
): Promise<ReadModel> {
  const tail = new TextDecoder('latin1').decode(bytes.subarray(-4096))
  if (!/END-ISO-10303-21\s*;/.test(tail))
    throw new ModelError('the end of the file: found no "END-ISO-10303-21;"; wanted it: the file is cut off')
  tell('Loading the STEP reader', null)
  const answer = await askKernel(bytes, tell, stepKernel)
  if (!answer.success || !answer.root || !answer.meshes)
    throw new ModelError(
      'the file: found STEP data that the CAD kernel cannot read; wanted a part or an assembly',
    )
  const elsewhere = filesNamed(bytes)
  if (elsewhere !== '' && answer.meshes.length === 0)
    throw new ModelError(
      `the file: found an assembly of parts in other files (${elsewhere}); wanted them in the file itself`,
    )
  tell('Gathering parts', null)
  const { parts, flat } = gatherParts(nodesOf(answer.root, answer.meshes))
  return {
    format: 'step',
    unitMm: 1,
    up: null,
    parts,
    notes: [
      'The unit is read from the file and already in millimetres.',
      `Curved faces are taken as triangles that stay within about ${WITHIN} mm of them.`,
      ...(elsewhere === '' ? [] : [`Parts in other files are not read and not measured: ${elsewhere}.`]),
      ...leftOutNotes({ flat }),
    ],
  }
}

/** Names of the files that the file refers to, joined; '' when there are none. */
function filesNamed(bytes: Uint8Array): string {
  const text = new TextDecoder('latin1').decode(bytes)
  const names = [...text.matchAll(/\bDOCUMENT_FILE\s*\(\s*'([^']{1,200})'/g)].map(m => m[1]!)
  return [...new Set(names)].slice(0, 20).join(', ')
}

async function askKernel(
  bytes: Uint8Array,
  tell: Tell,
  stepKernel: ReadOptions['stepKernel'],
): Promise<KernelAnswer> {
  const { default: start } = await import('occt-import-js')
  let kernel: Kernel
  try {
    // A kernel of its own for each file: one that failed is in no state to be asked again.
    kernel = await start({ wasmBinary: await stepKernel(), print: () => {}, printErr: () => {} })
  } catch (error) {
    throw new ModelError(`the STEP reader: found that it does not start (${reasonOf(error)}); wanted it to`)
  }
  try {
    tell('Reading STEP', null)
    return kernel.ReadStepFile(bytes, {
      linearUnit: 'millimeter',
      linearDeflectionType: 'absolute_value',
      linearDeflection: ASKED,
      angularDeflection: STEP_TURN,
    })
  } catch (error) {
    throw new ModelError(
      `the file: found STEP data at which the CAD kernel gave up (${reasonOf(error)}); wanted a sound file`,
    )
  }
}

const reasonOf = (error: unknown): string => (error instanceof Error ? error.message : String(error)).trim()

function nodesOf(root: KernelNode, meshes: NonNullable<KernelAnswer['meshes']>): ModelNode[] {
  const meshAt = (i: number): ModelNode['mesh'] => {
    const mesh = meshes[i]
    if (!mesh)
      throw new ModelError(`the file: found body ${i + 1} of ${meshes.length}; wanted one that is there`)
    return {
      positions: Float64Array.from(mesh.attributes.position.array),
      indices: Uint32Array.from(mesh.index.array),
    }
  }
  const nodeOf = (node: KernelNode): ModelNode => {
    const bodies = node.meshes.map(
      (i): ModelNode => ({ name: meshes[i]?.name ?? '', mesh: meshAt(i), children: [] }),
    )
    const below = node.children.map(nodeOf)
    const [only] = bodies
    return bodies.length === 1 && only
      ? { name: node.name || only.name, mesh: only.mesh, children: below }
      : { name: node.name, mesh: null, children: [...bodies, ...below] }
  }
  const top = nodeOf(root)
  // The kernel's own root has no name of the file's: its children are the top.
  return top.mesh || (top.name !== '' && top.children.length > 0) ? [top] : [...top.children]
}
