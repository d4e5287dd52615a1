// <set-list>: beside each set, how far the student of this device is in it.

import {StandingList} from '../parts/shared/standing-list.js';

customElements.define('set-list', class extends StandingList {});
