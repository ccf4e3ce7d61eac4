/** The four moments of the day, each one tap away. */
const doors = [
  { href: '/pitch', name: 'Pitch', says: 'How much, of which lot' },
  { href: '/crop', name: 'Crop', says: 'From FV to bin' },
  { href: '/bench', name: 'Count and stain', says: 'At the microscope' },
  { href: '/yeast/new', name: 'Fresh culture', says: 'A new line begins' },
];

export function Doors() {
  return (
    <ul class="doors">
      {doors.map(({ href, name, says }) => (
        <li key={href}>
          <a href={href}>
            <span class="door-name">{name}</span>
            <span class="door-says">{says}</span>
          </a>
        </li>
      ))}
    </ul>
  );
}
