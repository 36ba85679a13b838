const absolute = /^https?:\/\/(?<host>[^/?#@]+)(?<path>\/[^?#]*)$/i
const below = /^\/(?<key>[A-Z][A-Za-z]+\/[^/?#\s]+(?:\/_history\/[^/?#\s]+)?)$/

/**
 * The addresses at which a source knows itself: the configured one, and what its answers to searches call themselves, for
 * behind a gateway a server writes its inner name into everything. A reference to any of them is a reference to the source.
 */
export class OwnAddresses {
  readonly #bases = new Set<string>()
  /** The base of the last reference looked at: nearly all have the same. */
  #last = ''
  #lastIsOwn = false

  constructor(baseUrl: string) {
    const base = normalised(baseUrl)
    if (base !== undefined) this.#bases.add(base)
  }

  /** Takes over the base of a search result's `self` link, which FHIR R4 makes the address of the search itself. */
  learn(self: string, resourceType: string): void {
    const address = normalised(self.split('?', 1)[0] ?? '')
    for (const end of [`/${resourceType}`, `/${resourceType}/_search`])
      if (address?.endsWith(end)) this.#bases.add(address.slice(0, -end.length))
    this.#last = ''
  }

  /** The reference as `Type/id`, its version kept, where it is absolute and leads to the source itself; else undefined. */
  relative(reference: string): string | undefined {
    if (!/^https?:/i.test(reference.trimStart())) return undefined
    const text = reference.trim()
    const base = baseOf(text)
    if (base === undefined) return undefined
    if (base !== this.#last) {
      const known = normalised(base)
      this.#lastIsOwn = known !== undefined && this.#bases.has(known)
      this.#last = base
    }
    return this.#lastIsOwn ? below.exec(text.slice(base.length))?.groups?.key : undefined
  }
}

/** What stands before `/Type/id` or `/Type/id/_history/version`. */
function baseOf(address: string): string | undefined {
  const parts = address.split('/')
  const tail = parts.at(-2) === '_history' ? 4 : 2
  return parts.length > tail + 2 ? parts.slice(0, -tail).join('/') : undefined
}

/**
 * Host and path. The scheme is left aside, as a server behind a gateway that ends TLS writes its own address with http:; so
 * are capital letters of the host and the ports that the two schemes imply (RFC 3986, 6.2.2.1 and 6.2.3).
 */
function normalised(base: string): string | undefined {
  const { host, path } = absolute.exec(`${base.trim().replace(/\/+$/, '')}/`)?.groups ?? {}
  if (host === undefined || path === undefined) return undefined
  return `${host.toLowerCase().replace(/:(80|443)$/, '')}${path.replace(/\/+$/, '')}`
}
