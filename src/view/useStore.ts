import { useStore } from 'zustand'
import type { SkidDocument } from '../document/types.ts'
import { type DocumentState, documentStore } from '../store/documentStore.ts'
import { type SessionState, sessionStore } from '../store/sessionStore.ts'

export const useDocument = <T>(pick: (state: DocumentState) => T): T => useStore(documentStore, pick)
export const useSession = <T>(pick: (state: SessionState) => T): T => useStore(sessionStore, pick)
/** What the screen shows: a gesture's preview while it lasts, else the settled document. */
export const useShown = (): SkidDocument => useDocument(state => state.document)
