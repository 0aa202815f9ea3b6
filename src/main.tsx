import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
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
