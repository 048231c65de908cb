/**
 * An address to go on to after a sign-in, as a path of this service; null where it leads, or may be read as
 * leading, out of it. Browsers take a backslash for a slash and drop tabs, so the address is read as they read it.
 */
export function inside(to: string | null, origin: string): string | null {
  if (!to?.startsWith('/') || !URL.canParse(to, origin)) return null
  const url = new URL(to, origin)
  const path = url.pathname + url.search + url.hash
  return url.origin === origin && !path.startsWith('//') ? path : null
}
