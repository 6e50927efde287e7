"""A workbook that is compiled again at every save: when a save is whole, what it changed, what that did."""
