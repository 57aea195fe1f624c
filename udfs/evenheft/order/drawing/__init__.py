"""The order workbook drawn from its layout: template, blocks, charts, paper, looks, guide."""
