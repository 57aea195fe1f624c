"""Add-ins and workbooks with the functions inside, built without Excel."""
