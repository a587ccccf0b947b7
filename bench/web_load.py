"""What one logged set and one page of the log cost the server, against an address that does next to nothing: processor time, in one process.

python bench/web_load.py [TIMES]
"""

import json
import os
import statistics
import sys
import tempfile
import time
from datetime import date
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "web"))


def main(times: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        os.environ["LENGTHWISE_DATA"] = folder
        os.environ.pop("LENGTHWISE_DATABASE", None)
        from asking_plainly import Question, ask_all

        from lengthwise.questions.answering.demo import seed_demo
        from lengthwise.records import accounts, sign_ins, store
        from lengthwise.web.app import create_app
        from lengthwise.web.gate import SIGN_IN_COOKIE

        seed_demo()
        mara = next(c for c in store.stored_clients() if c.client.name.startswith("Mara"))
        accounts.add_account("Coach", "a long enough word")
        accounts.add_account("Mara", "a long enough word", "client", mara.client.name)
        cookies = {SIGN_IN_COOKIE: sign_ins.sign_in("Mara", "a long enough word").token}
        app, headers = create_app({"localhost"}), (("content-type", "application/json"), ("sec-fetch-site", "same-origin"))

        def one_set(i: int) -> Question:
            body = {"key": f"load-{i:08d}", "day": str(date.today()), "lift": "back squat", "line": "1x8 @ 60 r2"}
            return Question(
                f"/api/log/{mara.number}/line", "POST", cookies=cookies, headers=headers, body=json.dumps(body).encode()
            )

        kinds = {
            "empty": lambda i: Question("/mark.svg"),
            "set": one_set,
            "log page": lambda i: Question(f"/log/{mara.number}", cookies=cookies),
        }
        spent = {}
        for name, asked in kinds.items():
            ask_all(app, [asked(10**6)])
            took = []
            for i in range(times):
                begun = time.process_time()
                (found,) = ask_all(app, [asked(i)])
                took.append(1000 * (time.process_time() - begun))
                assert found.status < 300, (name, found.status, found.body[:200])
            took.sort()
            spent[name] = statistics.median(took)
            at = {p: took[min(len(took) - 1, len(took) * p // 100)] for p in (50, 95, 99)}
            print(
                f"{name}: "
                + ", ".join(f"p{p} {v:.1f} ms" for p, v in at.items())
                + f" of processor time, {spent[name] / spent['empty']:.1f} × empty"
            )


if __name__ == "__main__":
    main(int((*sys.argv[1:], "100")[0]))
