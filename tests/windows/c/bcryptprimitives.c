/* bcryptprimitives.dll: the one function that formualizer's engine asks of it, and that Wine 8 lacks. */
#include <windows.h>
#define SystemFunction036 NTAPI SystemFunction036
#include <ntsecapi.h>
#undef SystemFunction036

__declspec(dllexport) BOOL WINAPI ProcessPrng(PBYTE bytes, SIZE_T count) { return RtlGenRandom(bytes, (ULONG)count); }
