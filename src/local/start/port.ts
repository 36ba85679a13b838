import { createServer } from 'node:net'

/** The port of the service: 8787 unless PORT says otherwise; undefined when PORT is no port. */
export function readPort(text: string | undefined): number | undefined {
  if (text === undefined || text === '') return 8787
  const port = /^\d{1,5}$/.test(text) ? Number(text) : 0
  return port >= 1 && port <= 65_535 ? port : undefined
}

/** Whether something on this machine already listens on the port, or it may not be used. */
export function isTaken(port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const probe = createServer()
    probe.once('error', () => resolve(true))
    probe.listen(port, '127.0.0.1', () => probe.close(() => resolve(false)))
  })
}
