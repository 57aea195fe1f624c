/* python.exe: what CPython's own is, a call of the library beside it. */
#include <wchar.h>

__declspec(dllimport) int Py_Main(int argc, wchar_t **argv);

int wmain(int argc, wchar_t **argv) { return Py_Main(argc, argv); }
