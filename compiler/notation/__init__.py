"""The small languages of cells: a grammar, a reader and examples each; text in, a value or the remark why not out."""
