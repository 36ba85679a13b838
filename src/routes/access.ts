import { createMiddleware } from 'hono/factory'
import { ReportableError } from '../errors.ts'
import type { AppEnvironment } from './dependencies.ts'

/**
 * Who may ask. With a configured token every request needs it; without one nothing is answered, except under the local
 * start command, which listens on the loopback address only.
 */
export const requireAccess = createMiddleware<AppEnvironment>(async function requireAccess(c, next) {
  const { accessToken, localStart } = c.var.configuration
  if (accessToken === undefined) {
    if (!localStart) {
      throw new ReportableError(
        'forbidden',
        'Access is not configured: set the secret ACCESS_TOKEN and send it as a bearer token.',
      )
    }
  } else {
    const given = /^Bearer +(\S+)$/i.exec(c.req.header('authorization') ?? '')?.[1]
    if (given === undefined || !(await same(given, accessToken))) {
      throw new ReportableError('unauthenticated', 'Send the access token in the header: Authorization: Bearer …')
    }
  }
  await next()
})

/** Compares digests of equal length without stopping early, so that timing tells nothing of the token. */
async function same(given: string, expected: string): Promise<boolean> {
  const [left, right] = await Promise.all([digest(given), digest(expected)])
  let difference = 0
  for (const [index, byte] of left.entries()) difference |= byte ^ (right[index] ?? 256)
  return difference === 0
}

async function digest(text: string): Promise<Uint8Array> {
  return new Uint8Array(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text)))
}
