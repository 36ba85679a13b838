import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { plainText } from '../../../src/linkage/text/plain-text.ts'

const base64 = (text: string, encoding: BufferEncoding = 'utf8') => Buffer.from(text, encoding).toString('base64')
const bytes = (...values: number[]) => Buffer.from(values).toString('base64')

describe('text of an attachment', () => {
  it('is what was encoded, for every text that is not blank at its ends', () => {
    // RFC 4648, 10: test vectors of base64.
    expect(plainText('Zm9vYmFy', 'text/plain')).toBe('foobar')
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', minLength: 1 }), (text) => {
        expect(plainText(base64(`a${text}z`), 'text/plain; charset=utf-8')).toBe(`a${text}z`)
      }),
      { seed: 20_260_815 },
    )
  })

  it('may be broken into lines, as mail does it', () => {
    expect(plainText('Zm9v\r\nYmFy\n', 'text/plain')).toBe('foobar')
  })

  it('is read in the charset that the type names', () => {
    // Encoding standard: E9 is é in Windows-1252, of which ISO-8859-1 is a label there, and 96 is an en dash.
    expect(plainText(bytes(0x41, 0xe9), 'text/plain;charset=ISO-8859-1')).toBe('Aé')
    expect(plainText(bytes(0x41, 0x96, 0x42), 'text/plain; charset="windows-1252"')).toBe('A–B')
    expect(plainText(base64('Aé', 'utf16le'), 'text/plain; format=flowed; charset=utf-16le')).toBe('Aé')
    expect(plainText(base64('Aé'), 'TEXT/PLAIN; CHARSET=UTF-8')).toBe('Aé')
  })

  it('without a charset is UTF-8, or Windows-1252 where it cannot be UTF-8', () => {
    expect(plainText(base64('caecal – 6 mm'), 'text/plain')).toBe('caecal – 6 mm')
    expect(plainText(bytes(0x41, 0xe9, 0x42), 'text/plain')).toBe('AéB')
  })

  it.each([
    ['a PDF', 'Zm9vYmFy', 'application/pdf'],
    ['rich text', 'Zm9vYmFy', 'text/rtf'],
    ['a type that only begins alike', 'Zm9vYmFy', 'text/plainer'],
    ['an unknown charset', 'Zm9vYmFy', 'text/plain; charset=klingon'],
    ['no type', 'Zm9vYmFy', undefined],
    ['no data', undefined, 'text/plain'],
    ['data that is no text', 12, 'text/plain'],
    ['what is no base64', 'not base64!', 'text/plain'],
    ['base64 cut short', 'Zm9vY', 'text/plain'],
    ['nothing but blanks', base64('  \n '), 'text/plain'],
  ])('is undefined for %s', (_, data, type) => {
    expect(plainText(data, type)).toBeUndefined()
  })
})

describe('text of HTML', () => {
  const read = (html: string) => plainText(base64(html), 'text/html')?.split(/\s*\n\s*/)

  it('keeps the words, one block to a line, and nothing of the markup', () => {
    expect(
      read(
        '<html><head><title>Report</title><style>p { color: red }</style></head><body><h1>Diagnosis</h1><p class="a>b"></p><p>A. <b>Tubular</b> adenoma<br/>B. Normal</p><script>if (a < b) run()</script></body></html>',
      ),
    ).toEqual(['Diagnosis', 'b">', 'A. Tubular adenoma', 'B. Normal'])
  })

  it('reads character references', () => {
    expect(read('B &amp; C) 5&nbsp;mm &lt; 1&#48; mm &#x2013; caf&eacute;')).toEqual([
      'B & C) 5\u00a0mm < 10 mm – caf&eacute;',
    ])
  })

  it('leaves a sign that begins no tag where it is', () => {
    expect(read('<p>polyp <5 mm</p>')).toEqual(['polyp <5 mm'])
    expect(read('adenoma <unfinished')).toEqual(['adenoma <unfinished'])
    expect(read('seen <!-- never closed')).toEqual(['seen '.trim()])
  })

  it('takes any text, long ones too', () => {
    for (const piece of ['<', '<a', '<!--', '</script', '&', 'x>'])
      expect(typeof plainText(base64(`a${piece.repeat(250_000)}`), 'text/html')).toBe('string')
  })
})
