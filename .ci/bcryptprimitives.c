// Wine before 9 lacks this library, which every Go program loads at its start.
#include <windows.h>
BOOLEAN WINAPI SystemFunction036(PVOID buffer, ULONG length); // RtlGenRandom, in advapi32
__declspec(dllexport) BOOL WINAPI ProcessPrng(PBYTE buffer, SIZE_T length) {
	return SystemFunction036(buffer, (ULONG)length);
}
