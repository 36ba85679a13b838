import { asText } from '../../fhir/json.ts'
import { htmlText } from './html-text.ts'

/** Labels of the Encoding standard that every runtime here knows. */
const charsets = new Set(['utf-8', 'utf8', 'us-ascii', 'iso-8859-1', 'latin1', 'windows-1252', 'utf-16', 'utf-16le'])

/**
 * Text of an attachment (`presentedForm`): `text/plain` and `text/html`, in the charset that the content type names. Where none is
 * named it is UTF-8, or Windows-1252 if the bytes are no UTF-8.
 *
 * @param data base64, as FHIR sends it; blanks and line ends in it are passed over
 * @param contentType MIME type with or without a charset
 * @returns undefined for every other kind (PDF, RTF, images), for an unknown charset, for data that is no base64, and for no text
 */
export function plainText(data: unknown, contentType: unknown): string | undefined {
  const encoded = asText(data)
  const [kind, ...parameters] = (asText(contentType) ?? '').toLowerCase().split(';')
  const isHtml = kind?.trim() === 'text/html'
  if (encoded === undefined || (!isHtml && kind?.trim() !== 'text/plain')) return undefined
  const charset = parameters
    .map((one) => one.split('='))
    .find(([name]) => name?.trim() === 'charset')?.[1]
    ?.replace(/["']/g, '')
    .trim()
  const bytes = bytesOf(encoded)
  const text = bytes === undefined ? undefined : charset ? decoded(bytes, charset) : guessed(bytes)
  return text === undefined ? undefined : asText(isHtml ? htmlText(text) : text)
}

/** @returns undefined for what is no base64 */
function bytesOf(encoded: string): Uint8Array | undefined {
  const packed = encoded.replace(/\s+/g, '')
  if (packed.length % 4 !== 0 || !/^[A-Za-z0-9+/]*={0,2}$/.test(packed)) return undefined
  const binary = atob(packed)
  const bytes = new Uint8Array(binary.length)
  for (let index = 0; index < binary.length; index++) bytes[index] = binary.charCodeAt(index)
  return bytes
}

function guessed(bytes: Uint8Array): string {
  const text = new TextDecoder('utf-8').decode(bytes)
  return text.includes('\ufffd') ? new TextDecoder('windows-1252').decode(bytes) : text
}

/** @returns undefined for a charset that is not among `charsets` */
function decoded(bytes: Uint8Array, charset: string): string | undefined {
  return charsets.has(charset) ? new TextDecoder(charset).decode(bytes) : undefined
}
