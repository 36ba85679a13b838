/**
 * `npm start`: builds the measures, starts a demo FHIR server unless a source is configured, and runs the worker in
 * workerd through wrangler, on this machine only and without the network. Ctrl-C stops all of it.
 */
import { spawnSync } from 'node:child_process'
import { greeting } from './start/greeting.ts'
import { isTaken, readPort } from './start/port.ts'
import { chooseSource } from './start/source.ts'
import { startWorker } from './start/worker.ts'

const port = readPort(process.env.PORT)
if (port === undefined) fail(`PORT must be a number from 1 to 65535, not "${process.env.PORT}".`)
if (await isTaken(port)) fail(`Port ${port} is taken. Choose another one: PORT=${port + 1} npm start`)

const build = spawnSync(process.execPath, [...process.execArgv, 'src/local/build.ts'], { stdio: 'inherit' })
if (build.status !== 0) process.exit(build.status ?? 1)

const source = await chooseSource(process.env)
const worker = startWorker(port, source.variables)

let stopping = false
async function stop(code: number): Promise<void> {
  if (stopping) return
  stopping = true
  await Promise.all([worker.stop(), source.close()])
  process.exit(code)
}
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => void stop(0))
worker.ended.then((code) => stop(code === 0 ? 1 : code), fail)

if (await worker.answers()) console.log(greeting(port, source))
else if (!stopping) {
  console.error('The worker did not answer within 60 seconds.')
  await stop(1)
}

function fail(message: string): never {
  console.error(message)
  process.exit(1)
}
