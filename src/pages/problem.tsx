/** A fault, told in the page. */
export function Problem({ children }: { children?: unknown }) {
  return (
    <div class="problem" role="alert">
      <h1>This cannot be answered</h1>
      <p>{children}</p>
    </div>
  )
}
