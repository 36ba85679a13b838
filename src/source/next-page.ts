export interface NextPage {
  readonly url: string
  /** The link named another origin and was moved to the configured one. */
  readonly rebased: boolean
}

/**
 * Where to ask for the next page. Nothing is ever sent to another origin: servers behind a gateway write their inner
 * name into links, so a link to another origin keeps its place below the base and its query, and gets the configured
 * base. The query is an opaque cursor, kept byte for byte.
 *
 * @param link the `next` link as the server wrote it: absolute, or relative to the request that returned it
 * @param requestUrl that request
 * @param baseUrl the source's configured base, without trailing slash
 * @returns undefined when the link cannot be read as an http(s) address
 */
export function nextPage(
  link: string,
  requestUrl: string,
  baseUrl: string,
  resourceType: string,
): NextPage | undefined {
  const [beforeFragment = ''] = link.trim().split('#', 1)
  const mark = beforeFragment.indexOf('?')
  const place = mark < 0 ? beforeFragment : beforeFragment.slice(0, mark)
  const query = mark < 0 ? '' : beforeFragment.slice(mark)
  const target = URL.parse(place, requestUrl)
  if (target?.protocol !== 'http:' && target?.protocol !== 'https:') return undefined
  const base = new URL(baseUrl)
  // Built from origin and path only, so that a user name in the link is never sent.
  if (target.origin === base.origin) return { url: `${target.origin}${target.pathname}${query}`, rebased: false }
  return { url: `${baseUrl}${belowBase(target.pathname, base.pathname, resourceType)}${query}`, rebased: true }
}

/** The part of a foreign path below the server's base, which is ours where the paths agree and else ends before the type. */
function belowBase(path: string, basePath: string, resourceType: string): string {
  const base = basePath.replace(/\/$/, '')
  if (path === base || path.startsWith(`${base}/`)) {
    const below = path.slice(base.length)
    if (base !== '' || below === '/' || below.startsWith(`/${resourceType}`)) return below === '/' ? '' : below
  }
  const type = path.indexOf(`/${resourceType}`)
  return type < 0 ? '' : path.slice(type)
}
