"""Programme compiler: a coach's block workbook in, booklets with loadable weights out."""
