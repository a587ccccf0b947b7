"""What is plausibly sent to each address that takes something: forms, files and JSON that pass as far as what computes or keeps."""

import json
import tomllib
from datetime import date
from urllib.parse import urlencode

from lengthwise.records.own_lifts import text_like

TODAY = date.today().isoformat()
WEEK = {"monday": TODAY, "days": [{"day": "monday", "lifts": [{"lift": "back_squat"}]}]}
SET = {"lift": "back_squat", "load_kg": 60, "repetitions": 8}
STUDY = {"study": "s1", "year": "2020", "source": "x", "title": "long against short", "design": "parallel", "obtained": "invented"}
PLACE = {**STUDY, "muscle": "triceps", "measure": "thickness", "unit": "mm", "n": "20"}
ROWS = [
    {**PLACE, "arm": "long", "change_mean": "3.1", "change_sd": "1.4"},
    {**PLACE, "arm": "short", "change_mean": "2.0", "change_sd": "1.5"},
    {"study": "s1", "arm": "long", "versus": "short", "muscle": "triceps", "obtained": "invented"},
]
STUDY_FORM = {
    **PLACE, "study": "own1", "arm": "long", "arm_n": "20", "arm_change": "3.1", "arm_sd": "1.4",
    "versus": "short", "versus_n": "20", "versus_change": "2.0", "versus_sd": "1.5", "do": "store",
}  # fmt: skip
TABLE = "study,yi,vi\na,0.2,0.04\nb,0.3,0.05\nc,0.1,0.06\n"
CLAIM = '[[claim]]\nid = "own_claim"\nstatement = "long against short"\npopulation = "trained"\nfeeds = ["lift_choice"]\nwould_change = "a trial"\n'
TRIAL = """[[comparison]]
trial = "Own 1"
head = "vastus_lateralis"
a = { lift = "leg_extension", range = "long" }
b = { lift = "leg_extension", range = "short" }
observed = 6.0
source = "invented"
"""
FORM = {
    "name": "Somebody new", "password": "four words of my own", "again": "four words of my own", "current": "x", "code": "123456",
    "secret": "A" * 32, "mark": "0" * 32, "token": "0" * 32, "lift": "back_squat", "to": "front_squat", "day": TODAY, "monday": TODAY,
    "do": "store", "which": "triceps", "key": "0", "say": "refuse", "muscle": "triceps", "study": "own1", "claim": "own_claim",
    "entry": "1", "kind": "mass", "values": "70.1", "text": "x", "stem": "my_own_squat", "sex": "woman", "training": "untrained",
    "stature": "170", "mass": "70", "age": "30", "entered_in": "metric", "units": "metric", "theme": "auto", "back": "/",
    "week": json.dumps({"days": []}),
}  # fmt: skip
"""Fields of every form; each takes what it knows."""
FORMS = {
    "/week/{number:client}/edit": {"do": "look"},
    "/evidence/pool": {"text": TABLE},
    "/evidence/add-study": STUDY_FORM,
    "/evidence/own-claims": {"text": CLAIM},
    "/log/{number:log}/import/{token}": {"do": "keep"},
    "/choose/weights": {"name": "mine"},
}
OWN_LIFTS = ("/own-lifts/check", "/own-lifts/keep")
JSON = {
    "/api/week/{number:client}/check": WEEK,
    "/api/week/{number:client}": WEEK,
    "/api/progress/{number:client}/answers": {"key": "0", "say": "refuse"},
    "/api/log/{number:client}/sets": {"key": "a-key-of-mine-1", "day": TODAY, "sets": [SET]},
    "/api/log/{number:client}/line": {"key": "a-key-of-mine-2", "day": TODAY, "lift": "back squat", "line": "3x8 @ 60 r2"},
    "/api/log/{number:client}/measurements": {"key": "a-key-of-mine-3", "day": TODAY, "kind": "mass", "values": [70.0]},
    "/api/studies": {"rows": ROWS},
    "/api/studies/check": {"rows": ROWS},
    "/api/pool": {"rows": [{"yi": 0.2, "vi": 0.04, "study": s} for s in "abc"]},
    "/api/trials": tomllib.loads(TRIAL),
    "/api/weights/{name}": {"base": "default", "changed": {}},
    "/api/people/{number:client}/record": {"name": "Somebody"},
}
FILES = {
    "/records/restore": ("all.zip", "no zip"),
    "/evidence/import": ("studies.csv", "study,year\n"),
    "/own-lifts/file": ("mine.toml", "x = 1"),
    "/log/{number:log}/import": ("log.csv", f"date,lift,kg,reps\n{TODAY},back_squat,60,8\n"),
    "/people/file": ("somebody.toml", 'name = "Somebody of a file"'),
    "/people/{number:client}/file": ("somebody.toml", 'name = "Somebody"'),
    "/evidence/trials": ("own.toml", TRIAL),
}
LAST = (
    "/api/people/{number:client}/record", "/people/{number:client}/record", "/people/{number:client}/file",
    "/people/{number:client}/remove", "/people/demo", "/accounts", "/sign-in", "/sign-out",
)  # fmt: skip
"""After these much is otherwise; an account makes everybody else a stranger."""


def sent_to(path: str) -> tuple[str, bytes]:
    """The kind and the bytes of what is sent to an address."""
    if path in JSON:
        return "application/json", json.dumps(JSON[path]).encode()
    if path in FILES:
        name, text = FILES[path]
        head = f'--b\r\ncontent-disposition: form-data; name="file"; filename="{name}"\r\n\r\n'
        return "multipart/form-data; boundary=b", f"{head}{text}\r\n--b--\r\n".encode()
    own = {"text": text_like("back squat", "My own squat")} if path in OWN_LIFTS else {}
    return "application/x-www-form-urlencoded", urlencode({**FORM, **FORMS.get(path, {}), **own}).encode()
