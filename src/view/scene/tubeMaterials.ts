import {
  BackSide,
  type Color,
  DoubleSide,
  type Material,
  MeshBasicMaterial,
  MeshLambertMaterial,
  MeshPhongMaterial,
} from 'three'

/** Kept for good: with the last material of its kind the graphics card's program goes, and making it anew takes long. */
const kept = new Map<string, Material>()

function once(key: string, make: () => Material): Material {
  let known = kept.get(key)
  if (!known) {
    known = make()
    kept.set(key, known)
  }
  return known
}

/** A tube's own, coloured by its vertices; faded while a gap between others is under review. */
export const tubeMaterial = (plain: boolean, faded: boolean): Material =>
  once(`tube ${plain} ${faded}`, () => {
    const fade = faded ? { transparent: true, opacity: 0.16, depthWrite: false } : {}
    return plain
      ? new MeshLambertMaterial({ vertexColors: true, ...fade })
      : new MeshPhongMaterial({ vertexColors: true, shininess: 60, specular: '#3a4244', ...fade })
  })

/** Of what is lit, laid over the tube itself. */
export const litMaterial = (colour: Color, strength: number): Material =>
  once(
    `lit ${colour.getHexString()} ${strength}`,
    () =>
      new MeshLambertMaterial({
        color: colour,
        emissive: colour,
        emissiveIntensity: 0.25,
        transparent: true,
        opacity: strength,
        side: DoubleSide,
        depthWrite: false,
        polygonOffset: true,
        polygonOffsetFactor: -1,
        polygonOffsetUnits: -1,
      }),
  )

/** Of bands round a tube: dark on light tubes, light on dark ones. */
export const bandMaterial = (dark: boolean): Material =>
  once(`band ${dark}`, () => new MeshLambertMaterial({ color: dark ? '#101816' : '#ffffff' }))

/** Of a shell a little wider than a tube: only its far inside is drawn, so that it shows as a line round the tube. */
export const outlineMaterial = (colour: Color): Material =>
  once(`outline ${colour.getHexString()}`, () => new MeshBasicMaterial({ color: colour, side: BackSide }))

/** Of a sleeve round what is overrun, seen through the tube. */
export const sleeveMaterial = (colour: Color): Material =>
  once(
    `sleeve ${colour.getHexString()}`,
    () =>
      new MeshLambertMaterial({
        color: colour,
        transparent: true,
        opacity: 0.45,
        depthTest: false,
        depthWrite: false,
      }),
  )
