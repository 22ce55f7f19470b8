/** The files a virtual fleet is made from: scenario, nameplates, tag maps. */
package io.loopwarden.virtual.scenario;
