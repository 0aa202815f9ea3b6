import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { startOffline } from './store/updates.ts'
import { App } from './view/App.tsx'
import './view/theme.css'
import './view/shell.css'

const root = document.getElementById('app')
if (!root) throw new Error('main: found no element #app in index.html')
createRoot(root).render(
  <StrictMode>
    <App />
  </StrictMode>,
)
// Without storage or over plain http the app works all the same, only not offline.
if (import.meta.env.PROD) startOffline().catch(() => {})
