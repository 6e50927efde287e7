"""The example workbooks as readable tables."""
