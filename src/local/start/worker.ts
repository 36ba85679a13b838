import { type ChildProcess, spawn } from 'node:child_process'
import { mkdirSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'

export interface Worker {
  /** Resolves with the exit code once the worker has ended of itself. */
  readonly ended: Promise<number>
  /** Waits for the first answer of the service; false when it does not come. */
  answers(): Promise<boolean>
  /** Ends the worker and everything that it started. */
  stop(): Promise<void>
}

const folder = '.wrangler'

/** Without these the development server asks the network for things, reports home and keeps a record of all requests. */
const quiet = {
  CI: 'true',
  CLOUDFLARE_CF_FETCH_ENABLED: 'false',
  WRANGLER_SEND_METRICS: 'false',
  WRANGLER_SEND_ERROR_REPORTS: 'false',
  WRANGLER_HIDE_BANNER: 'true',
  WRANGLER_LOG_PATH: join(folder, 'logs'),
  X_LOCAL_OBSERVABILITY: 'false',
  X_LOCAL_EXPLORER: 'false',
}

/**
 * Runs the worker on 127.0.0.1.
 *
 * @param variables the worker's variables; they go through a file, as a command line may be read by everybody
 */
export function startWorker(port: number, variables: Readonly<Record<string, string>>): Worker {
  const program = join(dirname(createRequire(import.meta.url).resolve('wrangler/package.json')), 'bin/wrangler.js')
  const options = ['--ip', '127.0.0.1', '--port', String(port), '--env-file', writeVariables(variables)]
  const child = spawn(
    process.execPath,
    [program, 'dev', ...options, '--log-level', 'error', '--show-interactive-dev-session', 'false'],
    // A group of its own, so that it can be ended together with all that it starts.
    { env: { ...process.env, ...quiet }, stdio: ['ignore', 'inherit', 'inherit'], detached: true },
  )
  const ended = new Promise<number>((resolve, reject) => {
    child.once('error', reject)
    child.once('exit', (code) => resolve(code ?? 1))
  })
  return { ended, answers: () => answers(port, child), stop: () => endGroup(child, ended) }
}

/** One `NAME='value'` a line. A quotation mark inside JSON text is written as its escape, which reads the same. */
function writeVariables(variables: Readonly<Record<string, string>>): string {
  mkdirSync(folder, { recursive: true })
  const file = join(folder, 'start.env')
  const lines = Object.entries(variables).map(([name, value]) => `${name}='${value.replaceAll("'", '\\u0027')}'\n`)
  writeFileSync(file, lines.join(''), { mode: 0o600 })
  return file
}

async function answers(port: number, child: ChildProcess): Promise<boolean> {
  const until = performance.now() + 60_000
  while (performance.now() < until && child.exitCode === null) {
    try {
      const answer = await fetch(`http://127.0.0.1:${port}/health`, { signal: AbortSignal.timeout(2000) })
      if (answer.ok) return true
    } catch {
      // Not there yet.
    }
    await new Promise((resolve) => setTimeout(resolve, 200))
  }
  return false
}

async function endGroup(child: ChildProcess, ended: Promise<number>): Promise<void> {
  const signal = (name: NodeJS.Signals): void => {
    try {
      if (child.pid !== undefined) process.kill(-child.pid, name)
    } catch {
      // The group has ended already.
    }
  }
  signal('SIGTERM')
  await Promise.race([ended, new Promise((resolve) => setTimeout(resolve, 4000))])
  // What is left of the group now did not listen.
  signal('SIGKILL')
}
