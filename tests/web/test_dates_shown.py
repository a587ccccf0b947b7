"""Dates on pages: words for everyone, and what the reader's browser needs to write them its own way."""

from datetime import date, datetime, timedelta, timezone

from lengthwise.web.dates_shown import dated, day, moment, weekday


def test_a_date_has_words_and_what_a_browser_reads():
    assert day(date(2026, 3, 2)) == '<time datetime="2026-03-02" data-form="day">2 March 2026</time>'
    assert ">Monday, 2 March 2026<" in weekday(date(2026, 3, 2))


def test_a_moment_is_told_in_utc_where_the_browser_cannot_tell_its_own():
    told = '<time datetime="2026-03-01T23:30:00Z" data-form="moment">1 March 2026, 23:30 UTC</time>'
    assert moment(datetime(2026, 3, 1, 23, 30)) == told
    assert moment(datetime(2026, 3, 2, 1, 30, tzinfo=timezone(timedelta(hours=2)))) == told


def test_dates_in_a_text_are_found_and_the_rest_is_escaped():
    assert dated("3 sets of <b> on 2026-03-02") == f"3 sets of &lt;b&gt; on {day(date(2026, 3, 2))}"
    assert dated("line 2026-03") == "line 2026-03"
