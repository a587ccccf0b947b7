/** What every page runs: styles, htmx, menus, and the elements that a page shows. */
import "./style/tokens.css";
import "./style/page.css";
import "./style/parts.css";
import "./style/home.css";
import "./style/choose.css";
import "./style/lift.css";
import "./style/posture.css";
import "./style/evidence.css";
import "./style/people.css";
import "./style/log.css";
import "./style/week.css";
import "./style/progress.css";
import "./style/choosing.css";
import "./style/own_lifts.css";
import { start } from "./shell";

start();
