/* What VBA does with xlwings' library, without VBA: loads it, starts Python with a command line, calls CallUDF with the
   very VARIANTs that VBA makes, and compares what comes back with what is expected, to the last bit.

   Usage: client.exe SCRIPT. The script (UTF-8, one order a line) is carried out in order:
     library PATH        load the library
     start COMMAND       start Python, or find it started: prints "started", or the library's own words
     call NAME COUNT     then COUNT values, a line each, and the value that is expected
     raw NAME COUNT      the same without an expectation: prints the answer
     repeat N NAME COUNT call N times: prints "NAME N SECONDS"
     process             print Python's process number
     kill                end Python's process from outside
     crash               end the client itself from outside
     sleep MILLISECONDS
   Values: number BITS (hexadecimal), text UTF16 (hexadecimal), truth 0|1, empty, error CODE, missing, whole N,
   currency N (ten-thousandths), date BITS, array ROWS COLUMNS then its values row by row (ROWS 0: one dimension). */
#include <stdio.h>
#include <windows.h>
/* after it */
#include <oleauto.h>

typedef HRESULT(__stdcall *Activate)(VARIANT *, const char *, int);

static FILE *script;
static Activate activate;
static IDispatch *server;
static int alike, differ;

static char *next_line(void) {
  static char line[1 << 20];
  if (!fgets(line, sizeof line, script)) return NULL;
  line[strcspn(line, "\r\n")] = 0;
  return line;
}

static wchar_t *wide(const char *utf8) {
  static wchar_t text[1 << 16];
  MultiByteToWideChar(CP_UTF8, 0, utf8, -1, text, 1 << 16);
  return text;
}

/* As VBA hands a String to a Declare: in the machine's own code page. */
static const char *ansi(const char *utf8) {
  static char text[1 << 16];
  WideCharToMultiByte(CP_ACP, 0, wide(utf8), -1, text, sizeof text, NULL, NULL);
  return text;
}

static void print_wide(const wchar_t *text) {
  static char utf8[1 << 18];
  WideCharToMultiByte(CP_UTF8, 0, text, -1, utf8, sizeof utf8, NULL, NULL);
  for (char *c = utf8; *c; c++) putchar(*c == '\r' || *c == '\n' ? ' ' : *c);
}

static BSTR text_of(const char *hex) {
  size_t count = strlen(hex) / 4;
  BSTR text = SysAllocStringLen(NULL, count);
  for (size_t i = 0; i < count; i++) {
    unsigned unit;
    sscanf(hex + 4 * i, "%4x", &unit);
    text[i] = unit;
  }
  return text;
}

static VARIANT read_value(void);

static VARIANT read_array(long rows, long columns) {
  SAFEARRAYBOUND bounds[2] = {{rows ? rows : columns, 1}, {columns, 1}};
  SAFEARRAY *array = SafeArrayCreate(VT_VARIANT, rows ? 2 : 1, bounds);
  for (long row = 1; row <= (rows ? rows : 1); row++)
    for (long column = 1; column <= columns; column++) {
      long at[2] = {rows ? row : column, column};
      VARIANT value = read_value();
      SafeArrayPutElement(array, at, &value);
      VariantClear(&value);
    }
  VARIANT made;
  VariantInit(&made);
  made.vt = VT_ARRAY | VT_VARIANT;
  made.parray = array;
  return made;
}

static VARIANT read_value(void) {
  VARIANT value;
  VariantInit(&value);
  char kind[16] = "", *line = next_line(), *rest = strchr(line, ' ');
  sscanf(line, "%15s", kind);
  rest = rest ? rest + 1 : "";
  unsigned long long bits = strtoull(rest, NULL, 16);
  if (!strcmp(kind, "number") || !strcmp(kind, "date")) {
    value.vt = *kind == 'n' ? VT_R8 : VT_DATE;
    memcpy(&value.dblVal, &bits, 8);
  } else if (!strcmp(kind, "text")) {
    value.vt = VT_BSTR;
    value.bstrVal = text_of(rest);
  } else if (!strcmp(kind, "truth")) {
    value.vt = VT_BOOL;
    value.boolVal = atoi(rest) ? VARIANT_TRUE : VARIANT_FALSE;
  } else if (!strcmp(kind, "error")) {
    value.vt = VT_ERROR;
    value.scode = atol(rest);
  } else if (!strcmp(kind, "missing")) {
    value.vt = VT_ERROR;
    value.scode = DISP_E_PARAMNOTFOUND;
  } else if (!strcmp(kind, "whole")) {
    value.vt = VT_I4;
    value.lVal = atol(rest);
  } else if (!strcmp(kind, "currency")) {
    value.vt = VT_CY;
    value.cyVal.int64 = atoll(rest);
  } else if (!strcmp(kind, "array")) {
    long rows, columns;
    sscanf(rest, "%ld %ld", &rows, &columns);
    return read_array(rows, columns);
  } else if (strcmp(kind, "empty")) {
    printf("no such value: %s\n", line);
    exit(2);
  }
  return value;
}

static int shape_of(SAFEARRAY *array, long *rows, long *columns) { /* rows 0: one dimension */
  long low, high;
  int dimensions = SafeArrayGetDim(array);
  SafeArrayGetLBound(array, dimensions, &low);
  SafeArrayGetUBound(array, dimensions, &high);
  *columns = high - low + 1;
  *rows = 0;
  if (dimensions == 2) {
    SafeArrayGetLBound(array, 1, &low);
    SafeArrayGetUBound(array, 1, &high);
    *rows = high - low + 1;
  }
  return dimensions;
}

static void element(SAFEARRAY *array, long row, long column, VARIANT *value) {
  int dimensions = SafeArrayGetDim(array);
  long at[2], low[2] = {0, 0};
  for (int i = 0; i < dimensions; i++) SafeArrayGetLBound(array, i + 1, low + i);
  at[0] = low[0] + (dimensions == 2 ? row : column);
  at[1] = low[1] + column;
  VariantInit(value);
  SafeArrayGetElement(array, at, value);
}

static int same(VARIANT *one, VARIANT *other) {
  if (one->vt != other->vt) return 0;
  switch (one->vt) {
    case VT_EMPTY: return 1;
    case VT_R8: return !memcmp(&one->dblVal, &other->dblVal, 8);
    case VT_BSTR: return SysStringLen(one->bstrVal) == SysStringLen(other->bstrVal) &&
                         !memcmp(one->bstrVal, other->bstrVal, SysStringByteLen(one->bstrVal));
    case VT_BOOL: return !one->boolVal == !other->boolVal;
    case VT_I4: return one->lVal == other->lVal;
  }
  if (!(one->vt & VT_ARRAY)) return 0;
  long rows, columns, other_rows, other_columns;
  if (shape_of(one->parray, &rows, &columns) != shape_of(other->parray, &other_rows, &other_columns)) return 0;
  if (rows != other_rows || columns != other_columns) return 0;
  for (long row = 0; row < (rows ? rows : 1); row++)
    for (long column = 0; column < columns; column++) {
      VARIANT a, b;
      element(one->parray, row, column, &a);
      element(other->parray, row, column, &b);
      int equal = same(&a, &b);
      VariantClear(&a);
      VariantClear(&b);
      if (!equal) return 0;
    }
  return 1;
}

static void show(VARIANT *value) {
  if (value->vt & VT_ARRAY) {
    long rows, columns;
    shape_of(value->parray, &rows, &columns);
    printf("%ldx%ld{", rows, columns);
    for (long row = 0; row < (rows ? rows : 1); row++)
      for (long column = 0; column < columns; column++) {
        VARIANT cell;
        element(value->parray, row, column, &cell);
        printf(column ? "," : row ? ";" : "");
        show(&cell);
        VariantClear(&cell);
      }
    printf("}");
  } else if (value->vt == VT_BSTR) {
    putchar('"');
    print_wide(value->bstrVal);
    putchar('"');
  } else if (value->vt == VT_R8)
    printf("%.17g", value->dblVal);
  else if (value->vt == VT_BOOL)
    printf(value->boolVal ? "TRUE" : "FALSE");
  else if (value->vt == VT_I4)
    printf("whole %ld", value->lVal);
  else if (value->vt == VT_EMPTY)
    printf("empty");
  else
    printf("<%d>", value->vt);
}

/* Late-bound, as VBA calls a Variant that holds an object. */
static HRESULT invoke(IDispatch *on, const wchar_t *name, VARIANT *backwards, int count, VARIANT *answer) {
  DISPID number;
  OLECHAR *wanted = (OLECHAR *)name;
  HRESULT failed = on->lpVtbl->GetIDsOfNames(on, &IID_NULL, &wanted, 1, 0x409, &number);
  if (failed) return failed;
  DISPPARAMS given = {backwards, NULL, count, 0};
  EXCEPINFO told = {0};
  UINT which;
  VariantInit(answer);
  failed = on->lpVtbl->Invoke(on, number, &IID_NULL, 0x409, DISPATCH_METHOD | DISPATCH_PROPERTYGET, &given, answer, &told, &which);
  if (failed && told.bstrDescription) {
    answer->vt = VT_BSTR;
    answer->bstrVal = told.bstrDescription;
  }
  return failed;
}

static VARIANT text_variant(const char *text) {
  VARIANT value;
  VariantInit(&value);
  value.vt = VT_BSTR;
  value.bstrVal = SysAllocString(wide(text));
  return value;
}

static VARIANT arguments(long count) {
  SAFEARRAYBOUND bound = {count, 0};
  VARIANT made;
  VariantInit(&made);
  made.vt = VT_ARRAY | VT_VARIANT;
  made.parray = SafeArrayCreate(VT_VARIANT, 1, &bound);
  for (long i = 0; i < count; i++) {
    VARIANT value = read_value();
    SafeArrayPutElement(made.parray, &i, &value);
    VariantClear(&value);
  }
  return made;
}

static HRESULT call(const char *name, VARIANT given, VARIANT *answer) {
  VARIANT backwards[3] = {given, text_variant(name), text_variant("evenheft.hosts.excel.functions.served")};
  HRESULT failed = invoke(server, L"CallUDF", backwards, 3, answer);
  VariantClear(&backwards[1]);
  VariantClear(&backwards[2]);
  return failed;
}

static void print_answer(HRESULT failed, VARIANT *answer) {
  if (failed) printf("failed %ld ", (long)failed);
  show(answer);
  printf("\n");
}

static void check(const char *name, long count) {
  VARIANT given = arguments(count), expected = read_value(), answer;
  HRESULT failed = call(name, given, &answer);
  if (!failed && same(&answer, &expected)) {
    alike++;
  } else {
    differ++;
    printf("%s differs: expected ", name);
    show(&expected);
    printf(", got ");
    print_answer(failed, &answer);
  }
  VariantClear(&given);
  VariantClear(&expected);
  VariantClear(&answer);
}

static double seconds(void) {
  LARGE_INTEGER ticks, frequency;
  QueryPerformanceCounter(&ticks);
  QueryPerformanceFrequency(&frequency);
  return (double)ticks.QuadPart / frequency.QuadPart;
}

static void repeat(long times, const char *name, long count) {
  VARIANT given = arguments(count), answer;
  double begun = seconds();
  for (long i = 0; i < times; i++) {
    call(name, given, &answer);
    VariantClear(&answer);
  }
  printf("%s %ld %.6f\n", name, times, seconds() - begun);
  VariantClear(&given);
}

static long process_number(void) {
  VARIANT code = text_variant("__import__('os').getpid()"), object, number;
  if (invoke(server, L"Eval", &code, 1, &object)) return 0;
  if (invoke(server, L"Var", &object, 1, &number)) return 0;
  return number.lVal;
}

static void end_process(long number) {
  HANDLE process = OpenProcess(PROCESS_TERMINATE | SYNCHRONIZE, FALSE, number);
  TerminateProcess(process, 1);
  WaitForSingleObject(process, INFINITE);
  CloseHandle(process);
}

static void load(const char *path) {
  HMODULE library = LoadLibraryA(ansi(path));
  activate = library ? (Activate)GetProcAddress(library, "XLPyDLLActivateAuto") : NULL;
  if (!activate) {
    printf("no library at %s\n", path);
    exit(2);
  }
}

static void start(const char *command) {
  VARIANT got;
  VariantInit(&got);
  double begun = seconds();
  if (activate(&got, ansi(command), 1)) {
    print_wide(got.vt == VT_BSTR ? got.bstrVal : L"?");
    printf("\n");
    return;
  }
  server = got.pdispVal;
  printf("started %.3f\n", seconds() - begun);
}

int main(int count, char **given) {
  CoInitialize(NULL);
  script = fopen(given[1], "rb");
  if (count != 2 || !script) return 2;
  setvbuf(stdout, NULL, _IONBF, 0);
  for (char *line; (line = next_line());) {
    char order[16] = "", name[64] = "";
    long number = 0, times = 0;
    sscanf(line, "%15s", order);
    char *rest = line + strlen(order) + (line[strlen(order)] == ' ');
    if (!strcmp(order, "library")) load(rest);
    else if (!strcmp(order, "start")) start(rest);
    else if (!strcmp(order, "call") && sscanf(rest, "%63s %ld", name, &number) == 2) check(name, number);
    else if (!strcmp(order, "raw") && sscanf(rest, "%63s %ld", name, &number) == 2) {
      VARIANT values = arguments(number), answer;
      HRESULT failed = call(name, values, &answer);
      print_answer(failed, &answer);
    } else if (!strcmp(order, "repeat") && sscanf(rest, "%ld %63s %ld", &times, name, &number) == 3)
      repeat(times, name, number);
    else if (!strcmp(order, "process")) printf("process %ld\n", process_number());
    else if (!strcmp(order, "kill")) end_process(process_number());
    else if (!strcmp(order, "crash")) TerminateProcess(GetCurrentProcess(), 3);
    else if (!strcmp(order, "sleep")) Sleep(atol(rest));
    else if (*order) {
      printf("no such order: %s\n", line);
      return 2;
    }
  }
  printf("%d alike, %d differ\n", alike, differ);
  return differ != 0;
}
