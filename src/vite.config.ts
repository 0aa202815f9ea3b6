import { resolve } from 'node:path'
import react from '@vitejs/plugin-react'
import { defineConfig } from 'vitest/config'

const top = resolve(import.meta.dirname, '..')

export default defineConfig({
  root: import.meta.dirname,
  publicDir: resolve(top, 'public'),
  base: './',
  plugins: [react()],
  server: { port: 5190, fs: { allow: [top] } },
  preview: { port: 5190 },
  worker: { format: 'es' },
  build: { outDir: resolve(top, 'dist'), emptyOutDir: true, target: 'es2023', chunkSizeWarningLimit: 1600 },
  test: {
    root: top,
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/browser/**'],
    environment: 'node',
    testTimeout: 120_000,
  },
})
