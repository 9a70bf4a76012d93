"""One module a file format: bytes in, points and triangles out, or a refusal.

These run in the parsing process. None opens a file, follows a reference or
trusts a count before it has been held against the bytes that are there.
"""
