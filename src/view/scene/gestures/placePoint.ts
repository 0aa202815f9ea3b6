import type { Stage } from '../stage.ts'
import type { Move } from './gesture.ts'
export function placeAt(_stage: Stage, _at: Move) {}
export function showPlace(_stage: Stage, _at: Move) {}
export function stopPlacing() {}
