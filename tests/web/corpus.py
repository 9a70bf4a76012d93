"""What people, phones and scripts type where something else was meant."""

NUMBERS = {
    "a decimal comma": "1,5",
    "points and a comma": "1.000,50",
    "an exponent": "1e5",
    "a huge exponent": "1e400000",
    "full-width digits": "\uff11\uff12",
    "Arabic digits": "\u0661\u0662",
    "superscript digits": "\u00b2\u00b3",
    "not a number": "NaN",
    "infinity": "-inf",
    "two minus signs": "--1",
    "a minus": "-1",
    "nought": "0",
    "400 digits": "9" * 400,
    "5000 digits": "7" * 5000,
    "just past 63 bits": str(2**63),
    "spaces": "   ",
    "an underscore": "1_000",
    "a fraction of nothing": "1/0",
    "a unit and no number": "m",
    "a power of a power": "9**9**9",
}

MARK = "zqxv"
SCRIPT = f"</script></textarea></title><script>alert('{MARK}')</script>"
ATTRIBUTE = f"\"'><img src=x onerror=alert('{MARK}')> {{{{ {MARK} }}}} {{% now %}}"
TEXTS = {
    "emoji": "\U0001f9d1\U0001f3fd\u200d\U0001f3ed\U0001f1ec\U0001f1e7 \u2764\ufe0f",
    "right to left": "\u202eabc\u05e9\u05dc\u05d5\u05dd \u0627\u0644\u0639\u0631\u0628\u064a\u0629\u202c",
    "combining marks": "Z\u0351\u036b\u0343" + "\u0334\u0335" * 40 + "e\u0301",
    "a script": SCRIPT,
    "an attribute": ATTRIBUTE,
    "a formula": "=1+1",
    "control signs": "a\x01\x08\x0b\x1b\x7fb",
    "line breaks": "a\r\nb\rc\u2028d",
}

NUL = "a\x00b"
SURROGATE = "a\ud83db"
MEGABYTE = "m" * 2**20
