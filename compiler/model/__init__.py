"""The block workbook as understood: frozen records whose fields know their cells."""
