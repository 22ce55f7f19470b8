/** What leaves by request: the REST interface under /api/v1 and its problem details (RFC 9457). */
package io.loopwarden.rest;
