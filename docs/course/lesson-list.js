// <lesson-list>: beside each lesson's set, how far the student of this device is in it.

import {StandingList} from '../parts/shared/standing-list.js';

customElements.define('lesson-list', class extends StandingList {});
