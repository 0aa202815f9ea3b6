import type { ModelPartTree } from './modelTypes.ts'

/** The same tree in memory of its own. */
export const copiedTree = (part: ModelPartTree): ModelPartTree => ({
  ...part,
  tree: {
    ...part.tree,
    corners: part.tree.corners.slice(),
    order: part.tree.order.slice(),
    boxes: part.tree.boxes.slice(),
    child: part.tree.child.slice(),
    first: part.tree.first.slice(),
    count: part.tree.count.slice(),
  },
})

/** The memory behind trees, for handing them to another thread. */
export const buffersOfTrees = (trees: readonly ModelPartTree[]): ArrayBuffer[] => [
  ...new Set(
    trees.flatMap(({ tree }) =>
      [tree.corners, tree.order, tree.boxes, tree.child, tree.first, tree.count].map(
        a => a.buffer as ArrayBuffer,
      ),
    ),
  ),
]
