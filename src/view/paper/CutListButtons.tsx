import { useState } from 'react'
import { useStore } from 'zustand'
import type { Finding } from '../../findings/finding.ts'
import { billOfMaterialCsv } from '../../outputs/billOfMaterial.ts'
import { cutListPdf } from '../../outputs/cutListSheet.ts'
import type { PaperSize } from '../../outputs/fabricationSheet.ts'
import { OutputError } from '../../outputs/outputError.ts'
import { cutListJson } from '../../outputs/outputsCommand.ts'
import { runStates } from '../../outputs/releaseState.ts'
import { cutListCsv } from '../../outputs/writeCutList.ts'
import { type CutResult, cutStore, nestedResult } from '../../store/cutStore.ts'
import { download, fileNameFor } from '../../store/files.ts'
import { sessionStore } from '../../store/sessionStore.ts'

interface Kept {
  readonly label: string
  readonly ending: string
  readonly type: string
  write(
    result: CutResult,
    to: { readonly paper: PaperSize; readonly findings: readonly Finding[] | null },
  ): string | Promise<Uint8Array<ArrayBuffer>>
}

const CSV = 'text/csv;charset=utf-8'
const KEPT: readonly Kept[] = [
  {
    label: 'JSON',
    ending: '-cut-list.json',
    type: 'application/json',
    write: ({ document, solved, list, material }, { findings }) =>
      cutListJson(list, material, runStates(document, solved, findings)),
  },
  {
    label: 'material CSV',
    ending: '-material.csv',
    type: CSV,
    write: ({ material }) => billOfMaterialCsv(material),
  },
  {
    label: 'CSV',
    ending: '-cut-list.csv',
    type: CSV,
    write: ({ document, solved, list }, { findings }) =>
      cutListCsv(list, runStates(document, solved, findings)),
  },
  {
    label: 'PDF',
    ending: '-cut-list.pdf',
    type: 'application/pdf',
    write: async ({ document, solved, list }, { paper, findings }) => {
      const date = new Date().toISOString().slice(0, 19)
      return new Uint8Array(await cutListPdf(document, solved, list, { paper, findings, date }))
    },
  },
]

interface Props {
  readonly paper: PaperSize
  readonly name: string
  /** Of the whole document; null while they are not all known. */
  readonly findings: readonly Finding[] | null
}

/** Saves the cut list of the choices as they stand; while it is worked out, as soon as it is. */
export function CutListButtons({ paper, name, findings }: Props) {
  const { doing, refusedFields } = useStore(cutStore)
  const [waiting, setWaiting] = useState('')
  const { say } = sessionStore.getState()
  const save = async ({ label, ending, type, write }: Kept) => {
    setWaiting(label)
    try {
      const result = await nestedResult()
      if (!result) return
      const data = await write(result, { paper, findings })
      download(fileNameFor(`${result.document.name} ${name}`, ending), data, type)
      say(`Cut list, ${label}: sent to the browser’s downloads.`)
    } catch (error) {
      if (!(error instanceof OutputError)) throw error
      say(`Cut list, ${label}: ${error.message}`)
    } finally {
      setWaiting('')
    }
  }
  const off = doing.state === 'refused' || doing.state === 'stopped' || refusedFields.size > 0
  return KEPT.map(kept => (
    <button
      key={kept.label}
      type="button"
      className={kept.label === 'PDF' ? 'primary' : ''}
      disabled={off || waiting !== ''}
      onClick={() => void save(kept)}
    >
      {waiting === kept.label ? 'Calculating…' : `Save ${kept.label}`}
    </button>
  ))
}
