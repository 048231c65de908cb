import { surfaced } from '../../model/kinds'
import { ashoreWords, celsius, humidity } from '../../model/words'
import type { Pass } from './ResurveyView'

/** The instrument as its scale is known by, or as an old report wrote it. */
export const instrumentOf = (pass: Pass) =>
  pass.instrument?.name ?? (pass.instrumentAsWritten || 'instrument not stated')

export const cartouche = (pass: Pass) => `${instrumentOf(pass)}, ${ashoreWords(pass)}`

/** "8.5 °C, 76 % RH", or as much of it as was noted. */
export function weather({ airDecidegrees, humidityPermille }: Pass): string {
  return [airDecidegrees != null && celsius(airDecidegrees), humidityPermille != null && humidity(humidityPermille)]
    .filter(Boolean)
    .join(', ')
}

/** A pass's context in a line. */
export function contextOf(pass: Pass): string {
  const said = [
    pass.scale && `scale ${pass.scale.lowTenths / 10} to ${pass.scale.highTenths / 10}`,
    pass.face,
    [pass.surface && `underbody ${surfaced(pass.surface)}`, pass.drySurface && `topsides ${pass.drySurface}`]
      .filter(Boolean)
      .join(', '),
    weather(pass).replaceAll(' ', '\u00a0'), // in one piece
  ].filter(Boolean)
  return said.length ? said.join('\u00a0· ') : 'Its context did not survive: shown, never computed with'
}
