import react from '@vitejs/plugin-react'
import { defineConfig } from 'vitest/config'

/** In development Vite serves the page and passes everything else to the service. */
const service = process.env.BOOTTOP_URL ?? 'http://127.0.0.1:8080'
const passed = ['/graphql', '/auth', '/share', '/money/invoices.csv', '/report', '/upload', '/file', '/healthz']

/**
 * Tests against the running service: one browser, one file after the other. `looking` changes nothing that others
 * look at, and runs beside them.
 */
const running = (name: 'browser' | 'looking' | 'pictures') => ({
  test: {
    name,
    include: [`tests/${name}/**/*.test.ts`],
    environment: 'node' as const,
    fileParallelism: false,
    testTimeout: 120_000,
    hookTimeout: 60_000,
  },
})

export default defineConfig({
  plugins: [react()],
  build: {
    outDir: 'dist/app',
    emptyOutDir: true,
    target: 'es2023',
    assetsInlineLimit: 0, // the page's policy allows no data: URLs
    chunkSizeWarningLimit: 500,
  },
  server: { proxy: Object.fromEntries(passed.map((path) => [path, { target: service, changeOrigin: true }])) },
  test: {
    projects: [
      { extends: true, test: { name: 'unit', include: ['src/**/*.test.{ts,tsx}'], environment: 'node' } },
      running('browser'),
      running('looking'),
      running('pictures'),
    ],
  },
})
