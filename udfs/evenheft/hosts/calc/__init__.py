"""LibreOffice Calc: the registry's formulas as an add-in that works wherever LibreOffice does.

`contents` generates the extension from the registry, `package` writes it to a file, `office` finds a LibreOffice and
installs the extension into it. `component` and `serving` are what the extension carries into LibreOffice's own Python,
where nothing but the standard library can be counted on.
"""

HOST = "LibreOffice Calc"
EXTENSION = "evenheft.calc"
"""The extension's identifier in LibreOffice's list of extensions."""
SERVICE = "evenheft.Formulas"
INTERFACE = "evenheft.XFormulas"
"""The service and its interface of functions; a person never sees them, an .ods file names formulas after the first."""

OLDEST_OFFICE = "25.2"
"""The oldest LibreOffice that finds the formulas of an .xlsx file under their own names."""
OLDEST_OFFICE_FOR_ODS = "7.4"
"""The oldest that was seen to compute typed formulas and to keep them in .ods files (24.2 was tried as well)."""
