/* venvlauncher.exe: the python.exe of an environment. As CPython's own it starts the Python that pyvenv.cfg names as a
   child of its own in a job, and tells it by __PYVENV_LAUNCHER__ which environment it is in. */
#include <stdio.h>
#include <windows.h>

static int base_python(const wchar_t *launcher, wchar_t *python) {
  wchar_t settings[MAX_PATH], line[2048];
  wcscpy(settings, launcher);
  *wcsrchr(settings, L'\\') = 0;
  wcscpy(wcsrchr(settings, L'\\'), L"\\pyvenv.cfg");
  FILE *file = _wfopen(settings, L"r, ccs=UTF-8");
  if (!file) return 0;
  *python = 0;
  while (fgetws(line, 2048, file))
    if (!wcsncmp(line, L"home = ", 7)) {
      line[wcscspn(line, L"\r\n")] = 0;
      wcscpy(python, line + 7);
    }
  fclose(file);
  wcscat(python, L"\\python.exe");
  return 1;
}

int wmain(void) {
  wchar_t launcher[MAX_PATH], python[MAX_PATH];
  GetModuleFileNameW(NULL, launcher, MAX_PATH);
  if (!base_python(launcher, python)) return 106;
  SetEnvironmentVariableW(L"__PYVENV_LAUNCHER__", launcher);

  HANDLE job = CreateJobObjectW(NULL, NULL);
  JOBOBJECT_EXTENDED_LIMIT_INFORMATION limits = {0};
  limits.BasicLimitInformation.LimitFlags = JOB_OBJECT_LIMIT_KILL_ON_JOB_CLOSE | JOB_OBJECT_LIMIT_SILENT_BREAKAWAY_OK;
  SetInformationJobObject(job, JobObjectExtendedLimitInformation, &limits, sizeof limits);

  STARTUPINFOW start = {sizeof start};
  GetStartupInfoW(&start);
  start.hStdInput = GetStdHandle(STD_INPUT_HANDLE);
  start.hStdOutput = GetStdHandle(STD_OUTPUT_HANDLE);
  start.hStdError = GetStdHandle(STD_ERROR_HANDLE);
  start.dwFlags |= STARTF_USESTDHANDLES;
  PROCESS_INFORMATION child;
  if (!CreateProcessW(python, GetCommandLineW(), NULL, NULL, TRUE, 0, NULL, NULL, &start, &child)) return 101;
  AssignProcessToJobObject(job, child.hProcess);
  WaitForSingleObject(child.hProcess, INFINITE);
  DWORD code;
  GetExitCodeProcess(child.hProcess, &code);
  return code;
}
