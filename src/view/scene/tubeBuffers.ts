import { BufferAttribute, BufferGeometry } from 'three'
import type { TubeMesh } from './tubeGeometry.ts'

export type Triangles = Pick<TubeMesh, 'positions' | 'normals' | 'index'>

/** A tube's triangles as one indexed geometry; whoever asks for it disposes of it. */
export const tubeBuffers = ({ positions, normals, index }: Triangles): BufferGeometry =>
  new BufferGeometry()
    .setAttribute('position', new BufferAttribute(positions, 3))
    .setAttribute('normal', new BufferAttribute(normals, 3))
    .setIndex(new BufferAttribute(index, 1))
