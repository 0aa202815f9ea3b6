import { documentStore } from './documentStore.ts'

/** Starts the loading of models with the first document that has one: most have none. Gives what stops it. */
export function startModelsWhenNeeded(): () => void {
  let stop = () => {}
  let asked = false
  let stopped = false
  const look = () => {
    if (asked || documentStore.getState().settled.models.length === 0) return
    asked = true
    void import('./models.ts').then(({ startModels }) => {
      if (!stopped) stop = startModels()
    })
  }
  const unsubscribe = documentStore.subscribe(look)
  look()
  return () => {
    stopped = true
    unsubscribe()
    stop()
  }
}
