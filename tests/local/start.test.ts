import { type ChildProcess, spawn, spawnSync } from 'node:child_process'
import type { AddressInfo } from 'node:net'
import { createServer } from 'node:net'
import { describe, expect, it, onTestFinished } from 'vitest'
import { isTaken, readPort } from '../../src/local/start/port.ts'
import { chooseSource, demoAsOf } from '../../src/local/start/source.ts'

/** Something else that listens on a port of this machine. */
async function occupiedPort(): Promise<number> {
  const server = createServer()
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  onTestFinished(() => void server.close())
  return (server.address() as AddressInfo).port
}

async function freePort(): Promise<number> {
  const server = createServer()
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as AddressInfo
  await new Promise((resolve) => server.close(resolve))
  return port
}

describe('the port', () => {
  it.each([
    [undefined, 8787],
    ['', 8787],
    ['9000', 9000],
    ['0', undefined],
    ['65536', undefined],
    ['web', undefined],
  ])('PORT=%s gives %s', (text, port) => {
    expect(readPort(text)).toBe(port)
  })

  it('is known to be taken, or free', async () => {
    expect(await isTaken(await occupiedPort())).toBe(true)
    expect(await isTaken(await freePort())).toBe(false)
  })
})

describe('the source', () => {
  it('is the one that the environment names, with everything said about it', async () => {
    const source = await chooseSource({
      FHIR_BASE_URL: 'http://127.0.0.1:1/fhir',
      TIME_ZONE: 'Europe/Berlin',
      FEEDS: 'polyps',
      HOME: '/x',
    })
    expect(source.variables).toEqual({
      FHIR_BASE_URL: 'http://127.0.0.1:1/fhir',
      TIME_ZONE: 'Europe/Berlin',
      FEEDS: 'polyps',
      LOCAL_START: 'true',
    })
  })

  it('is the demo where none is named, read as of its own day', async () => {
    const source = await chooseSource({})
    onTestFinished(() => source.close())
    expect(source.variables.AS_OF).toBe(demoAsOf)
    const [{ baseUrl }] = JSON.parse(source.variables.SOURCES ?? '[]') as [{ baseUrl: string }]
    const count = await fetch(`${baseUrl}/Procedure?code=73761001&_count=0`)
    expect((await count.json()) as object).toMatchObject({ resourceType: 'Bundle', type: 'searchset' })
  })
})

describe('npm start', () => {
  const command = ['--import', './src/local/require-node.mjs', 'src/local/start.ts']

  it('says in one line that the port is taken, and ends', async () => {
    const port = await occupiedPort()
    const { status, stderr, stdout } = spawnSync(process.execPath, command, {
      env: { ...process.env, PORT: String(port) },
      encoding: 'utf8',
    })
    expect(status).toBe(1)
    expect(stdout).toBe('')
    expect(stderr.trim().split('\n')).toEqual([expect.stringContaining(`Port ${port} is taken`)])
  })

  it('serves until it is told to stop, and then leaves nothing behind', async () => {
    const port = await freePort()
    // Nothing is read before a question is asked, so the source need not be there.
    const env = {
      ...process.env,
      PORT: String(port),
      FHIR_BASE_URL: 'http://127.0.0.1:1/fhir',
      TIME_ZONE: 'Europe/London',
    }
    const start = spawn(process.execPath, command, { env, stdio: ['ignore', 'pipe', 'pipe'] })
    onTestFinished(() => void start.kill('SIGKILL'))
    await until(start, 'Ctrl-C stops it.')
    expect((await fetch(`http://127.0.0.1:${port}/health`)).status).toBe(200)
    const ended = new Promise<number | null>((resolve) => start.once('exit', resolve))
    start.kill('SIGTERM')
    expect(await ended).toBe(0)
    expect(await isTaken(port)).toBe(false)
  })
})

/** Waits until a process has printed some words; fails with all that it printed when it ends without them. */
function until(child: ChildProcess, words: string): Promise<void> {
  let printed = ''
  return new Promise((resolve, reject) => {
    for (const stream of [child.stdout, child.stderr])
      stream?.on('data', (chunk: Buffer) => {
        printed += chunk.toString()
        if (printed.includes(words)) resolve()
      })
    child.once('exit', (code) => reject(new Error(`ended with ${code}: ${printed}`)))
  })
}
