/** Parts of mathjs's nodes that are read here. */
export interface Tree {
  readonly type: string;
  readonly op?: string;
  readonly fn?: string | Tree;
  readonly args?: readonly Tree[];
  readonly params?: readonly Tree[];
  readonly conditionals?: readonly string[];
  readonly content?: Tree;
  readonly name?: string;
  readonly value?: unknown;
}

/** What stands in a node, in the order in which it is written; nothing for a name or a number. */
export function childrenOf(node: Tree): readonly Tree[] {
  switch (node.type) {
    case "OperatorNode":
      return node.args ?? [];
    case "FunctionNode":
      return [node.fn as Tree, ...(node.args ?? [])];
    case "RelationalNode":
      return node.params ?? [];
    case "ParenthesisNode":
      return node.content === undefined ? [] : [node.content];
    default:
      return [];
  }
}
