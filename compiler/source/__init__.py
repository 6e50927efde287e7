"""A workbook as it was written."""
