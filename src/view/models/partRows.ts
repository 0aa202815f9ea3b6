/** A part or a branch of a model's tree, as a row of the list sees it. */
export interface PartNode {
  /** Unique in the tree. */
  readonly id: string
  readonly name: string
  /** 1 at the top. */
  readonly level: number
  /** The part's key; null for a branch. */
  readonly key: string | null
  /** Keys of the part itself, or of all parts below. */
  readonly keys: readonly string[]
  readonly children: readonly PartNode[]
}

export interface Named {
  readonly key: string
  readonly names: readonly string[]
}

interface Growing {
  readonly id: string
  readonly name: string
  readonly level: number
  readonly key: string | null
  readonly keys: string[]
  readonly children: Growing[]
  readonly branches: Map<string, Growing>
}
const grow = (id: string, name: string, level: number, key: string | null): Growing => ({
  id,
  name,
  level,
  key,
  keys: [],
  children: [],
  branches: new Map(),
})

/** The tree that the parts' names make, in the order of the file. */
export function partTree(parts: readonly Named[]): readonly PartNode[] {
  const top = grow('', '', 0, null)
  for (const { key, names } of parts) {
    let at = top
    const ups = [top]
    for (const name of names.slice(0, -1)) {
      let next = at.branches.get(name)
      if (!next) {
        next = grow(`${at.id}/b:${name}`, name, at.level + 1, null)
        at.branches.set(name, next)
        at.children.push(next)
      }
      at = next
      ups.push(at)
    }
    const leaf = grow(`p:${key}`, names.at(-1) ?? key, at.level + 1, key)
    leaf.keys.push(key)
    at.children.push(leaf)
    for (const up of ups) up.keys.push(key)
  }
  return top.children
}

export interface PartRow {
  readonly node: PartNode
  readonly expanded: boolean | null
  /** Place among its siblings, from 1, and their number. */
  readonly place: number
  readonly of: number
}

/**
 * The rows to show: what is below an expanded branch. With a filter: every part or branch whose name has the words in
 * it, with the branches above it, all expanded.
 */
export function partRows(
  tree: readonly PartNode[],
  expanded: ReadonlySet<string>,
  filter: string,
): PartRow[] {
  const words = filter.trim().toLowerCase()
  const rows: PartRow[] = []
  const walk = (nodes: readonly PartNode[], all: boolean) => {
    const shown = words && !all ? nodes.filter(n => holds(n, words)) : nodes
    shown.forEach((node, i) => {
      const isBranch = node.children.length > 0
      const own = words !== '' && node.name.toLowerCase().includes(words)
      const open = isBranch && (words !== '' ? !own || expanded.has(node.id) : expanded.has(node.id))
      rows.push({ node, expanded: isBranch ? open : null, place: i + 1, of: shown.length })
      if (open) walk(node.children, all || own)
    })
  }
  walk(tree, false)
  return rows
}

const holds = (node: PartNode, words: string): boolean =>
  node.name.toLowerCase().includes(words) || node.children.some(c => holds(c, words))

/** Ids of the branches above a part, so that it can be shown. */
export function branchesAbove(tree: readonly PartNode[], key: string): string[] {
  const way: string[] = []
  const find = (nodes: readonly PartNode[]): boolean =>
    nodes.some(node => {
      if (node.key === key) return true
      if (node.children.length === 0 || !node.keys.includes(key)) return false
      way.push(node.id)
      return find(node.children)
    })
  return find(tree) ? way : []
}
