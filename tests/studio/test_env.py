"""The environment is read exactly or refused by name."""

import pytest

from studio import env


@pytest.mark.parametrize(
    ("value", "truth"), [("true", True), ("1", True), ("True", True), ("false", False), ("0", False)]
)
def test_it_reads_yes_and_no(value, truth):
    assert env.boolean({"HTTPS": value}, "HTTPS", default=not truth) is truth


@pytest.mark.parametrize("held", [{}, {"HTTPS": ""}, {"HTTPS": "  "}])
def test_what_is_not_set_has_its_default(held):
    assert env.boolean(held, "HTTPS", default=True) is True
    assert env.integer(held, "HTTPS", default=7, low=1, high=9) == 7
    assert env.text(held, "HTTPS", default="here") == "here"
    assert env.listing(held, "HTTPS", default=["a"]) == ["a"]
    assert env.secret(held, "HTTPS", default="") == ""


@pytest.mark.parametrize("value", ["yes", "on", "2", "tru", "false;", "null"])
def test_it_refuses_a_word_that_is_neither_yes_nor_no(value):
    with pytest.raises(env.EnvError, match=f"HTTPS is '{value}'; use true, false, 1 or 0."):
        env.boolean({"HTTPS": value}, "HTTPS", default=False)


def test_it_reads_a_whole_number_within_its_bounds():
    assert env.integer({"PORT": " 8000 "}, "PORT", default=1, low=1, high=65535) == 8000
    assert env.integer({"SHIFT": "-3"}, "SHIFT", default=0, low=-5, high=5) == -3


@pytest.mark.parametrize("value", ["0", "65536", "1e3", "8000.0", "1_000", "８", "+1", "9" * 400])
def test_it_refuses_a_number_out_of_bounds_or_form(value):
    with pytest.raises(env.EnvError, match=r"PORT is .*; use a whole number from 1 to 65535\."):
        env.integer({"PORT": value}, "PORT", default=1, low=1, high=65535)


def test_a_required_word_must_be_set():
    with pytest.raises(env.EnvError, match=r"DATABASE_URL is not set; give it a value\."):
        env.text({}, "DATABASE_URL")
    assert env.text({"DATABASE_URL": " sqlite:///x "}, "DATABASE_URL") == "sqlite:///x"


def test_a_listing_is_parted_by_commas():
    assert env.listing({"HOSTS": "a.example, b.example"}, "HOSTS") == ["a.example", "b.example"]
    with pytest.raises(env.EnvError, match="HOSTS is 'a,,b'; put something between the commas"):
        env.listing({"HOSTS": "a,,b"}, "HOSTS")


def test_a_secret_is_read_as_given_or_from_its_file(tmp_path):
    (tmp_path / "key").write_text("kept in a file\n", encoding="utf-8")
    assert env.secret({"KEY": "given"}, "KEY") == "given"
    assert env.secret({"KEY_FILE": str(tmp_path / "key")}, "KEY") == "kept in a file"


def test_a_secret_given_twice_is_refused(tmp_path):
    with pytest.raises(env.EnvError, match=r"KEY and KEY_FILE are both set; keep one\.") as error:
        env.secret({"KEY": "hushed", "KEY_FILE": str(tmp_path)}, "KEY")
    assert "hushed" not in str(error.value)


def test_a_required_secret_must_be_set():
    with pytest.raises(env.EnvError, match="KEY is not set; give it, or KEY_FILE with the path"):
        env.secret({}, "KEY")


def test_a_secret_file_must_be_readable_text_that_holds_something(tmp_path):
    (tmp_path / "empty").write_text(" \n", encoding="utf-8")
    (tmp_path / "bytes").write_bytes(b"\xff\xfe\xff")
    for name, reason in [
        ("absent", "No such file"),
        ("empty", "which is empty"),
        ("bytes", "it is not text"),
        ("", "directory"),
    ]:
        with pytest.raises(env.EnvError, match=reason):
            env.secret({"KEY_FILE": str(tmp_path / name)}, "KEY")
