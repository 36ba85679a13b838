import { build } from 'esbuild'
import { Miniflare } from 'miniflare'
import { onTestFinished } from 'vitest'

export interface BuiltWorker {
  /** Asks the worker inside workerd for a path. */
  ask(path: string): Promise<Response>
}

/** Bundles the worker as it is deployed and starts it in workerd, until the test ends. */
export async function startBuiltWorker(bindings: Readonly<Record<string, string>>): Promise<BuiltWorker> {
  const { outputFiles } = await build({
    entryPoints: ['src/index.ts'],
    bundle: true,
    write: false,
    format: 'esm',
    target: 'es2024',
    platform: 'browser',
    conditions: ['workerd', 'worker', 'browser'],
    mainFields: ['browser', 'module', 'main'],
    jsx: 'automatic',
    jsxImportSource: 'hono/jsx',
    loader: { '.json': 'json' },
    logLevel: 'silent',
  })
  const contents = outputFiles[0]?.text ?? ''
  const miniflare = new Miniflare({
    host: '127.0.0.1',
    cf: false,
    enableDevRegistry: false,
    workers: [
      {
        config: {
          name: 'colonoscopy-measures',
          compatibilityDate: '2026-10-01',
          manifest: { mainModule: 'worker.mjs', modules: { 'worker.mjs': { type: 'esm', contents } } },
          env: Object.fromEntries(
            Object.entries(bindings).map(([name, value]) => [name, { type: 'text' as const, value }]),
          ),
        },
      },
    ],
  })
  onTestFinished(() => miniflare.dispose())
  const origin = await miniflare.ready
  return { ask: (path) => fetch(new URL(path, origin)) }
}
