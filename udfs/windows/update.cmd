@echo off
rem Brings Evenheft up to date from this folder: unpack the new version, close Excel, double-click this file there.
setlocal EnableExtensions DisableDelayedExpansion
if exist "%USERPROFILE%\evenheft\Scripts\python.exe" goto update
echo ! Evenheft is not installed here yet: double-click install.cmd instead.
if /i not "%~1"=="/quiet" pause
exit /b 1

:update
rem Without "call", which reads a percent sign in a folder's name once more: it goes on there, and ends there.
"%~dp0install.cmd" %1
