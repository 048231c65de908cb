import './styles/index.css'
import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { App } from './app/App'
import { goToFaults } from './ui/toFault'

const root = document.getElementById('root')
if (!root) throw new Error('index.html has no #root')
goToFaults(document)
createRoot(root).render(
  <StrictMode>
    <App />
  </StrictMode>,
)
