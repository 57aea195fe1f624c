@echo off
rem Takes Evenheft away again: the add-in, the settings, and its Python environment. Your workbooks stay as they are,
rem also those that lie in the environment's folder.
setlocal EnableExtensions DisableDelayedExpansion
rem Paths stand in quotes wherever they are shown: a folder's name may hold an ampersand.
set "PLACE=%USERPROFILE%\evenheft"
set "RESULT=1"

if not exist "%PLACE%\pyvenv.cfg" goto nothing
if not exist "%PLACE%\Scripts\evenheft.exe" goto folder
"%PLACE%\Scripts\evenheft.exe" excel remove
if errorlevel 1 goto held

:folder
rem What marks the folder as an environment goes last: a second try finds what the first one left.
for %%D in (Scripts Lib Include share etc) do if exist "%PLACE%\%%D" rmdir /s /q "%PLACE%\%%D" 2>nul
for %%D in (Scripts Lib Include share etc) do if exist "%PLACE%\%%D" goto held
del /q "%PLACE%\xlwings*.dll" 2>nul
if exist "%PLACE%\xlwings*.dll" goto held
del /q "%PLACE%\pyvenv.cfg"
rem Goes only if it is empty.
rmdir "%PLACE%" 2>nul
if exist "%PLACE%" echo What else lies in "%PLACE%" is not Evenheft's and stays there.
echo Evenheft is gone; your workbooks stay as they are.
set "RESULT=0"
goto end

:nothing
echo There is no Evenheft in "%PLACE%": nothing to take away.
set "RESULT=0"
goto end

:held
echo ! Something of Evenheft is still in use: close every Excel window and every command prompt that uses it,
echo   then double-click this file again.

:end
if /i not "%~1"=="/quiet" pause
exit /b %RESULT%
