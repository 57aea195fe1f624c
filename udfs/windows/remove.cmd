@echo off
rem Takes Evenheft away again: the add-in, the settings, and its Python environment. Your workbooks stay as they are.
setlocal EnableExtensions DisableDelayedExpansion
rem Paths stand in quotes wherever they are shown: a folder's name may hold an ampersand.
set "PLACE=%USERPROFILE%\evenheft"
set "RESULT=1"

if not exist "%PLACE%\pyvenv.cfg" goto nothing
if not exist "%PLACE%\Scripts\evenheft.exe" goto folder
"%PLACE%\Scripts\evenheft.exe" excel remove
if errorlevel 1 goto held

:folder
rmdir /s /q "%PLACE%"
if exist "%PLACE%" goto held
echo Took "%PLACE%" away. Evenheft is gone; your workbooks stay as they are.
set "RESULT=0"
goto end

:nothing
echo There is no Evenheft in "%PLACE%": nothing to take away.
set "RESULT=0"
goto end

:held
echo ! Something of Evenheft is still in use: close every Excel window, then double-click this file again.

:end
if /i not "%~1"=="/quiet" pause
exit /b %RESULT%
