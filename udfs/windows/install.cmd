@echo off
rem Evenheft in Excel on Windows: double-click this file. It needs no administrator.
rem It makes a Python environment in your own folder, installs Evenheft there, and puts the add-in in place.
setlocal EnableExtensions DisableDelayedExpansion
rem Paths stand in quotes wherever they are shown, for a folder's name may hold an ampersand, and are never handed
rem over by "call", which reads a percent sign once more.
set "SOURCE=%~dp0..\.."
set "PLACE=%USERPROFILE%\evenheft"
set "EVENHEFT=%PLACE%\Scripts\evenheft.exe"
set "RESULT=1"

if not exist "%SOURCE%\pyproject.toml" goto no_source

rem An environment whose Python was taken away is made anew; a folder that is no environment is somebody's own.
if exist "%PLACE%\pyvenv.cfg" goto try_environment
for %%D in (Include Lib Scripts pyproject.toml) do if exist "%PLACE%\%%D" goto not_ours
goto find_python

:try_environment
"%PLACE%\Scripts\python.exe" -c "import pip, sys; sys.exit(sys.version_info < (3, 11))" >nul 2>nul
if not errorlevel 1 goto install

:find_python
set "PYTHON="
for %%N in (py.exe python.exe python3.exe) do (
  set "FOUND=%%N"
  call :try
)
set "FOLDER=%LOCALAPPDATA%\Programs\Python"
call :look_in
set "FOLDER=%ProgramFiles%"
call :look_in
set "FOLDER=%SystemDrive%"
call :look_in
if not defined PYTHON goto no_python

echo Making an environment with "%PYTHON%" in "%PLACE%" ...
rem Not venv's own --clear: that would take away whatever else lies there.
for %%D in (Scripts Lib Include) do if exist "%PLACE%\%%D" rmdir /s /q "%PLACE%\%%D"
"%PYTHON%" -m venv "%PLACE%"
if errorlevel 1 goto no_environment

:install
echo Installing Evenheft in "%PLACE%" ...
"%PLACE%\Scripts\python.exe" -m pip install --quiet --disable-pip-version-check "%SOURCE%"
if errorlevel 1 goto no_packages
echo Putting the add-in in place ...
"%EVENHEFT%" excel install
if errorlevel 1 goto no_add_in
echo.
"%EVENHEFT%" doctor
echo.
echo Done. Close Excel if it is open, start it, and type =HEFT_VERSION() into a cell.
set "RESULT=0"
goto end

rem Where python.org's installer puts it when it is not to be found by its name alone.
:look_in
pushd "%FOLDER%\" 2>nul
for /d %%D in (Python3*) do (
  set "FOUND=%FOLDER%\%%D\python.exe"
  call :try
)
popd
goto :eof

rem The first Python that is new enough, and not the Microsoft Store's, which Excel cannot start.
:try
if defined PYTHON goto :eof
"%FOUND%" -c "import sys; sys.exit(sys.version_info < (3, 11) or 'windowsapps' in sys.executable.lower())" >nul 2>nul
if not errorlevel 1 set "PYTHON=%FOUND%"
goto :eof

:no_source
echo ! This file must lie where it came from, in the folder udfs\windows of Evenheft:
echo   unpack the whole of Evenheft first, then double-click it there.
goto end

:not_ours
echo ! "%PLACE%" is a folder of your own, and the place where Evenheft's Python environment goes:
echo   give that folder another name, then double-click this file again.
goto end

:no_python
echo ! No Python 3.11 or newer is found. Install it from python.org (not from the Microsoft Store; the small
echo   tick at "Add python.exe to PATH" helps), then double-click this file again.
goto end

:no_environment
echo ! The environment cannot be made in "%PLACE%": close Excel and whatever uses that folder,
echo   then double-click this file again.
goto end

:no_packages
echo ! Evenheft cannot be installed: the lines above say why. Without a connection to the internet its
echo   packages cannot be fetched; with Excel open they may be in use.
goto end

:no_add_in
echo ! The add-in is not in place yet: the line above says what to do. Then double-click this file again.
goto end

:end
if /i not "%~1"=="/quiet" pause
exit /b %RESULT%
