import type { MiddlewareHandler } from 'hono'

/** A page runs no script and loads nothing; a browser is told so, whatever text a record may hold. */
const policy =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

/** Headers of every page. */
export const pageHeaders: MiddlewareHandler = async (c, next) => {
  await next()
  c.header('Content-Security-Policy', policy)
  c.header('Referrer-Policy', 'no-referrer')
}
