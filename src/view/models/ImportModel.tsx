import { useCallback, useEffect, useRef, useState } from 'react'
import { capital } from '../../document/capital.ts'
import { addModel, replaceModelFile } from '../../document/modelEdits.ts'
import type { Model, ModelKind } from '../../document/types.ts'
import { visibleText } from '../../document/visibleText.ts'
import { MOST_BYTES, MOST_PARTS, MOST_TRIANGLES } from '../../skid/models/limits.ts'
import { treesKey } from '../../skid/models/modelTypes.ts'
import { documentStore } from '../../store/documentStore.ts'
import { type Progress, type ReadFile, type Reading, readModelFile } from '../../store/modelReader.ts'
import { putModelState } from '../../store/modelStore.ts'
import { loadModel } from '../../store/models.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { takeModelFile } from '../../store/takeModelFile.ts'
import { applyEdit } from '../fields/applyEdit.ts'
import { showDialog } from '../shell/dialogStore.ts'
import { Modal } from '../shell/Modal.tsx'
import { type Answers, AskAboutModel, answersFor } from './AskAboutModel.tsx'
import { pickModelFile } from './modelActions.ts'
import { bytesInWords } from './modelWords.ts'
import { ReadProgress } from './ReadProgress.tsx'
import './models.css'

type Step =
  | { readonly at: 'choose'; readonly problem: string | null }
  | { readonly at: 'reading'; readonly name: string; readonly progress: Progress }
  | { readonly at: 'asking'; readonly file: File; readonly found: ReadFile }

interface Props {
  /** A file that is there already, as after a drop. */
  readonly file: File | null
  /** Id of the model whose file is to be replaced, or null for a new model. */
  readonly replaces: string | null
}

/** Takes a model in: choose, read, say what the file does not say, and it stands on the skid. */
export default function ImportModel({ file: given, replaces }: Props) {
  const [step, setStep] = useState<Step>({ at: 'choose', problem: null })
  const [answers, setAnswers] = useState<Answers | null>(null)
  const reading = useRef<Reading | null>(null)
  const before = documentStore.getState().settled.models.find(m => m.id === replaces) ?? null

  const stop = useCallback(() => {
    reading.current?.end()
    reading.current = null
  }, [])
  useEffect(() => stop, [stop])

  const read = useCallback(
    async (file: File) => {
      stop()
      const tell = (progress: Progress) => setStep({ at: 'reading', name: file.name, progress })
      tell({ stage: 'Starting', done: null })
      const mine = readModelFile(file, file.name, tell)
      reading.current = mine
      try {
        const found = await mine.file
        if (reading.current !== mine) return
        setAnswers(answersFor(found.read, file.name, before))
        setStep({ at: 'asking', file, found })
      } catch (error) {
        if (reading.current !== mine) return
        stop()
        setStep({ at: 'choose', problem: `“${visibleText(file.name)}” was not imported. ${sentence(error)}` })
      }
    },
    [stop, before],
  )
  const started = useRef(false)
  useEffect(() => {
    if (started.current || !given) return
    started.current = true
    void read(given)
  }, [given, read])

  const choose = async () => {
    try {
      const file = await pickModelFile()
      if (file) await read(file)
    } catch (error) {
      setStep({ at: 'choose', problem: sentence(error) })
    }
  }

  const put = async (file: File, found: ReadFile, { name, unitMm, up, kind }: Answers) => {
    const mine = reading.current
    if (!mine) return
    setStep({ at: 'reading', name: file.name, progress: { stage: 'Sorting triangles', done: null } })
    try {
      const loaded = await loadModel(mine, found, unitMm, up)
      if (reading.current !== mine) return
      stop()
      const { hash, bytes } = found
      const source = { fileName: file.name, hash, bytes, format: found.read.format, unitMm, up }
      const notKept = await takeModelFile(hash, file)
      putModelState(treesKey(source), { kind: 'ready', loaded })
      const id = place({ ...source, name, kind }, replaces)
      showDialog(null)
      if (id === null) return
      const session = sessionStore.getState()
      session.select({ kind: 'model', model: id, key: null })
      session.look({ kind: 'fitSelection' })
      session.say(
        notKept
          ? `${name} is in the skid until this page is closed: ${notKept}. Keep “${visibleText(file.name)}”: you will need it again.`
          : `${name} is on the skid.`,
      )
    } catch (error) {
      if (reading.current === mine)
        setStep({ at: 'choose', problem: `“${visibleText(file.name)}” was not imported. ${sentence(error)}` })
    }
  }

  const title = before ? `Another file for ${before.name}` : 'Import a model'
  if (step.at === 'asking' && answers)
    return (
      <Modal
        title={title}
        buttons={
          <>
            <button type="button" onClick={() => void choose()}>
              Another file…
            </button>
            <button type="submit" form="ask-about-model" className="primary">
              {before ? 'Use it' : 'Put it on the skid'}
            </button>
          </>
        }
      >
        <AskAboutModel
          read={step.found.read}
          fileName={step.file.name}
          bytes={step.found.bytes}
          answers={answers}
          onChange={setAnswers}
          onDone={final => void put(step.file, step.found, final)}
          replaces={before !== null}
        />
      </Modal>
    )
  if (step.at === 'reading')
    return (
      <Modal title={title}>
        <p>Reading “{step.name}”. Nothing leaves this machine.</p>
        <ReadProgress progress={step.progress} />
        <button
          type="button"
          onClick={() => {
            stop()
            setStep({ at: 'choose', problem: null })
          }}
        >
          Cancel
        </button>
      </Modal>
    )
  return (
    <Modal
      title={title}
      buttons={
        <button type="button" className="primary" onClick={() => void choose()}>
          Choose a file…
        </button>
      }
    >
      {step.at === 'choose' && step.problem && (
        <p role="alert" className="import-problem">
          {step.problem}
        </p>
      )}
      <p>
        A model is reference geometry: it is drawn, and every tube’s clearance to it is checked. It stays a
        separate file, recognised by its contents.
      </p>
      <dl className="import-limits">
        <dt>STEP</dt>
        <dd>up to {bytesInWords(MOST_BYTES.step)}</dd>
        <dt>GLB, glTF</dt>
        <dd>up to {bytesInWords(MOST_BYTES.gltf)}, in one file with its data inside</dd>
        <dt>STL</dt>
        <dd>up to {bytesInWords(MOST_BYTES.stl)}, text or binary</dd>
        <dt>OBJ</dt>
        <dd>up to {bytesInWords(MOST_BYTES.obj)}</dd>
        <dt>Any of them</dt>
        <dd>
          up to {MOST_TRIANGLES / 1e6} million triangles and {MOST_PARTS.toLocaleString('en-GB')} parts
        </dd>
      </dl>
      <p className="quiet">You can also drop the file anywhere on this page.</p>
    </Modal>
  )
}

const sentence = (error: unknown): string => {
  const text = error instanceof Error ? error.message : String(error)
  return `${capital(text)}${/[.!?]$/.test(text) ? '' : '.'}`
}

function place(
  {
    name,
    kind,
    ...file
  }: Pick<Model, 'name' | 'fileName' | 'hash' | 'bytes' | 'format' | 'unitMm' | 'up'> & {
    kind: ModelKind
  },
  replaces: string | null,
): string | null {
  let id = replaces
  const refused = applyEdit(replaces ? `Other file for ${name}` : `Import ${name}`, settled => {
    if (replaces) return replaceModelFile(settled, replaces, file)
    const added = addModel(settled, { ...file, name, kind })
    id = added.modelId
    return added.document
  })
  if (refused !== null) sessionStore.getState().say(refused)
  return refused === null ? id : null
}
