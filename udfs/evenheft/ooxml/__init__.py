"""The file format of workbooks: opened with care, read, and changed byte for byte. It knows no golf and no host."""
