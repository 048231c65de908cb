/** The zones this device knows by their IANA names, with the one that stands whether it is known here or not. */
export function zoneNames(standing: string): string[] {
  return [...new Set([...Intl.supportedValuesOf('timeZone'), 'Etc/UTC', standing])].sort()
}
